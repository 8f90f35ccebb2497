"""Patterns that are compiled when they are first looked for: a job meets few of the ways in which a thing is said."""

from __future__ import annotations

import re
from collections.abc import Callable
from functools import partial
from typing import cast

METHODS = ("match", "search", "fullmatch", "sub", "subn", "split", "findall", "finditer")
GUARDED = ("match", "search", "fullmatch", "sub")


class Late:
    """Stands in for a compiled pattern; the first method that is asked of it compiles it.

    needs  signs of which, in small letters, each text that it matches has at least one: another need not be looked at.
    """

    def __init__(self, pattern: str, flags: int, needs: tuple[str, ...]) -> None:
        """Nothing is looked at yet."""
        self.pattern = pattern
        self.flags = flags
        self.needs = needs

    def __getattr__(self, name: str) -> object:
        """The compiled one's own; its methods are kept, so that nothing is asked twice."""
        if name not in METHODS:
            raise AttributeError(name)
        if not self.needs or name not in GUARDED:
            return self._compiled(name)
        method = partial(self._where_it_may, name)
        setattr(self, name, method)
        return method

    def _compiled(self, name: str) -> Callable[..., object]:
        compiled = re.compile(self.pattern, self.flags)
        for method in METHODS:
            setattr(self, method, getattr(compiled, method))
        return cast("Callable[..., object]", getattr(self, name))

    def _where_it_may(self, name: str, *arguments: object) -> object:
        """What the method gives; of a text without what is needed that nothing is found, and nothing is compiled."""
        text = cast(str, arguments[name == "sub"])
        # Of signs beyond ASCII the pattern alone knows which are alike.
        if text.isascii() and not any(need in text.lower() for need in self.needs):
            return text if name == "sub" else None
        return self._compiled(name)(*arguments)


def late(pattern: str, flags: int = 0, needs: tuple[str, ...] = ()) -> re.Pattern[str]:
    """A pattern that is used as a compiled one is, by its methods; `needs` as `Late` says."""
    return cast("re.Pattern[str]", Late(pattern, flags, needs))
