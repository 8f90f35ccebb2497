"""What stands in a folder after `make`, in sentences: what of the earlier output was kept, and what changed since."""

from __future__ import annotations

from collections.abc import Iterator

from cutmarks.writers.pack import Written


def kept_words(written: Written) -> Iterator[str]:
    """What became of files that were there before."""
    for old, new in written.yours.items():
        yield f"You had changed {old}: yours is now {new}."
    if written.earlier:
        yield (
            f"The earlier output does not say how each of its files was written: all of it is kept as "
            f"{written.earlier}, and yours to remove."
        )


def changed_words(written: Written) -> Iterator[str]:
    """What is new against the output before; nothing where there was none."""
    if written.moved:
        old, new = next(iter(written.moved.items()))
        more = f" (and {len(written.moved) - 1} more)" if len(written.moved) > 1 else ""
        yield (
            f"Names moved since the last output: {old} is {new} now{more}. Prints under the old names are out of date."
        )
    if written.changed:
        yield f"Changed since the last output: {', '.join(written.changed)}."
    elif written.changed is not None:
        yield "No piece changed since the last output."
