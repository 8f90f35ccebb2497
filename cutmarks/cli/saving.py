"""Writing one new file: whole or not at all, and never over one that is there."""

from __future__ import annotations

from pathlib import Path

from cutmarks.errors import OutputError


def save_new(target: Path, content: bytes) -> None:
    """Write a file that is not there yet.

    Raises:
        OutputError: it is there already, or the disk or the folder is in the way; nothing was written.
    """
    try:
        with target.open("xb") as file:
            try:
                file.write(content)
                file.flush()
            except OSError:
                target.unlink()
                raise
    except FileExistsError as error:
        raise OutputError(f"{target} is there already: give another name. Nothing was written.") from error
    except OSError as error:
        raise OutputError(f"{target}: {(error.strerror or str(error)).lower()}. Nothing was written.") from error
