"""What is told on standard output: sentences, tables and JSON. No arithmetic here, and no Textual."""
