"""Patterns that are compiled when they are first looked for: a job meets few of the ways in which a thing is said."""

from __future__ import annotations

import re
from typing import cast

METHODS = ("match", "search", "fullmatch", "sub", "subn", "split", "findall", "finditer")


class Late:
    """Stands in for a compiled pattern; the first method that is asked of it compiles it."""

    def __init__(self, pattern: str, flags: int) -> None:
        """Nothing is looked at yet."""
        self.pattern = pattern
        self._flags = flags

    def __getattr__(self, name: str) -> object:
        """The compiled one's own; its methods are kept, so that nothing is asked twice."""
        if name not in METHODS:
            raise AttributeError(name)
        compiled = re.compile(self.pattern, self._flags)
        for method in METHODS:
            setattr(self, method, getattr(compiled, method))
        return getattr(compiled, name)


def late(pattern: str, flags: int = 0) -> re.Pattern[str]:
    """A pattern that is used as a compiled one is, by its methods."""
    return cast("re.Pattern[str]", Late(pattern, flags))
