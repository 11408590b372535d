"""Figures, pictures and sheets that both front ends show.

How far a project is, what a ball weighs, how long the rest takes. Each function takes a project and gives values or
lines of words. No file here prints or paints.
"""

DOORS = ("ball_weights", "measure_words", "measures", "mending", "pictures", "work_so_far", "quantities", "sheet")
"""The modules of this folder that others may import; the rest is its own."""
