"""Where the starter jobs and the blank measure-up sheets are: installed with the package, or beside it."""

from __future__ import annotations

from importlib import resources
from pathlib import Path

from cutmarks.errors import OutputError

STARTERS = ("wall.yaml", "floor.yaml", "inch.yaml")
"""The starter jobs, by file name."""
BLANKS = (
    "measure-up-wall-A4.pdf",
    "measure-up-wall-Letter.pdf",
    "measure-up-floor-A4.pdf",
    "measure-up-floor-Letter.pdf",
)
"""The blank measure-up sheets, by file name."""


def template_folders() -> tuple[Path, ...]:
    """Where templates are looked for, in order: in the installed package, then in the repository beside it."""
    package = Path(str(resources.files("cutmarks")))
    return package / "_templates", package.parent / "templates"


def find_template(name: str) -> Path:
    """The path of the template called `name` (one of STARTERS or BLANKS; a starter's name may stand without .yaml).

    Raises:
        OutputError: there is no template of that name, or the installation has lost it; the sentence lists the names.
    """
    known = {wanted: wanted for wanted in (*STARTERS, *BLANKS)} | {Path(s).stem: s for s in STARTERS}
    if name not in known:
        allowed = ", ".join((*STARTERS, *BLANKS))
        raise OutputError(f'There is no template "{name}". The templates are: {allowed}.')
    for folder in template_folders():
        path = folder / known[name]
        if path.is_file():
            return path
    raise OutputError(f'The template "{known[name]}" was not installed with cutmarks: install cutmarks again.')
