"""The Textual screens: they read making and send events; no arithmetic here."""
