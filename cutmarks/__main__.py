"""`python -m cutmarks` is `cutmarks`."""

from __future__ import annotations

from cutmarks.cli import main

if __name__ == "__main__":
    main()
