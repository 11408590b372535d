"""Pages over the working screen: to read, to choose from, to tick."""
