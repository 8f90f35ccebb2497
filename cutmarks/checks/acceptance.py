"""What the tiler accepts: the findings that an entry under `accept:` is for, and the entries that are for none."""

from __future__ import annotations

from collections.abc import Container, Iterator, Sequence
from difflib import get_close_matches
from typing import TYPE_CHECKING

from msgspec.structs import replace

from cutmarks.checks.model import Finding
from cutmarks.checks.pieces import listed
from cutmarks.checks.rules import NAMES

if TYPE_CHECKING:
    from cutmarks.job.models import Accepted


def with_reasons(
    found: Sequence[Finding], accepted: Sequence[Accepted], not_looked_for: Container[str] = ()
) -> list[Finding]:
    """The findings, those that are accepted with the reason; a note for each entry that is for none of them.

    Nothing is said of an entry whose rule was not looked for everywhere.
    """
    looked_for = [one for one in accepted if one.rule not in not_looked_for]
    for_none = [one for one in looked_for if not any(is_for(one, finding) for finding in found)]
    notes = [note for one in for_none for note in not_found(one, found)]
    return [_accepted(finding, accepted) for finding in (*found, *notes)]


def is_for(one: Accepted, finding: Finding) -> bool:
    """Whether an entry accepts a finding: the rule is its own, and the thing is one that it is about."""
    return one.rule == finding.rule and (not one.about or one.about in finding.about)


def _accepted(finding: Finding, accepted: Sequence[Accepted]) -> Finding:
    reason = next((one.reason for one in accepted if is_for(one, finding)), None)
    return replace(finding, accepted=reason)


def not_found(one: Accepted, found: Sequence[Finding]) -> Iterator[Finding]:
    """An entry that no finding answers to: a slip of the pen, or what it was for is no longer so."""
    about = f" about {one.about}" if one.about else ""
    head = f'Under accept: "{one.rule}"{about} is for no finding'
    things = sorted({name for finding in found if finding.rule == one.rule for name in finding.about})
    if things:
        tail = f": it is said of {listed(things)}.{_meant(one.about, things)}"
    elif one.rule in NAMES:
        tail = " of this job: take it out if what it was for is put right."
    else:
        tail = f", and no rule is called that.{_meant(one.rule, NAMES) or _WHERE_NAMED}"
    yield Finding("note", "accepted, not found", (), head + tail)


_WHERE_NAMED = " A finding's rule is printed behind it by cutmarks check."


def _meant(typed: str, known: Sequence[str]) -> str:
    """The name that was meant, where what was typed looks like a slip; capitals are one."""
    small = {name.casefold(): name for name in known}
    near = get_close_matches(typed.casefold(), small, 1)
    return f" Did you mean {small[near[0]]}?" if near else ""
