"""The trade's shorthand to a typed tree. Knows words and columns, nothing else."""
