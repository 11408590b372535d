"""What the commands that check a pattern end with, for programs that call them."""

from __future__ import annotations

CLEAN, FINDINGS, UNREADABLE = 0, 1, 2
