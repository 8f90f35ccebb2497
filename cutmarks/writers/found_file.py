"""The file of what was found, beside the job: one more entry, or none of it."""

from __future__ import annotations

import os
from pathlib import Path

from cutmarks.errors import OutputError


def keep(path: Path, content: str) -> None:
    """Put `content` in the place of the file at `path`: written beside it first, so that it is whole or as it was.

    Raises:
        OutputError: the disk or the folder is in the way; the file is as it was.
    """
    new = path.with_name(f"{path.name}.new")
    try:
        new.write_text(content, encoding="utf-8", newline="\n")
        os.replace(new, path)
    except OSError as error:
        raise OutputError(
            f"{path.name} cannot be written ({error.strerror or error}): nothing was kept. "
            "Look at the folder, then say it again."
        ) from None


def kept(path: Path) -> str:
    """What the file holds; nothing where it is not there."""
    return path.read_text(encoding="utf-8-sig") if path.is_file() else ""
