"""The commands: each reads its words, asks the rooms below, and prints.

Standard output is for answers, standard error for what went wrong. Every command says by its exit code how it ended.
Textual is imported only by the command that opens the screen.
"""

DOORS = ("main",)
"""The modules of this folder that others may import; the rest is its own."""
