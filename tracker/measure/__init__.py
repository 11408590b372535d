"""Size, yarn and time, from gauge and swatch."""
