"""`python -m tracker` is the command `rounds`."""

from __future__ import annotations

from tracker.cli.main import main

if __name__ == "__main__":
    raise SystemExit(main())
