"""The command line: commands, progress, exit codes; no arithmetic."""

from __future__ import annotations

from cutmarks.cli import app
from cutmarks.cli.ending import leave_at_once

__all__ = ["main"]


def main() -> None:
    """Run the command line and end the process, at once where nothing waits for its end."""
    try:
        app.main()
    except SystemExit as ended:
        leave_at_once(ended.code)
        raise
