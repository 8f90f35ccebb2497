"""HTML of the desk page, from its templates: whatever a job says is escaped there."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping, Sequence
from functools import cache, partial

from jinja2 import Environment, PackageLoader, StrictUndefined
from markupsafe import Markup

from cutmarks.desk.form import FormThing, MoreKey, things_in
from cutmarks.desk.says import spelt
from cutmarks.errors import JobPath
from cutmarks.job.examples import in_unit_of
from cutmarks.units import Unit


@cache
def _environment() -> Environment:
    made = Environment(
        loader=PackageLoader("cutmarks.desk"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    made.filters["spelt"] = spelt
    made.filters["ident"] = _ident
    made.filters["sample"] = _sample
    made.filters["figures"] = _figures
    return made


def _ident(path: JobPath) -> str:
    """What an element is known by that stands for a place of the job: its path may hold any character."""
    return hashlib.sha256(spelt(path).encode()).hexdigest()[:12]


def _sample(words: str, key: str = "", before: str = "e.g. ") -> Markup:
    """What stands in an empty field of a page whose units are not known yet: in millimetres, and in inches too."""
    mm, inches = f"{before}{words}", f"{before}{_example_in(Unit.INCH, key, words)}"
    return Markup('placeholder="{}" data-mm="{}" data-inches="{}"').format(mm, mm, inches)


def _figures(words: str) -> Markup:
    """The same in running words."""
    inches = _example_in(Unit.INCH, "", words)
    return Markup('<span data-mm="{}" data-inches="{}">{}</span>').format(words, inches, words)


def page_html(template: str, **values: object) -> str:
    """A whole page, from the template of that name."""
    return _environment().get_template(template).render(**values)


def form_html(form: FormThing, more: Mapping[str, Sequence[MoreKey]], unit: Unit) -> str:
    """The form of a job, with what each kind of thing in it may have besides; its examples in the job's own unit."""
    kinds = {one.more for one in things_in(form)}
    own = {kind: keys for kind, keys in more.items() if kind in kinds}
    return page_html("form.html", form=form, more=own, example=partial(_example_in, unit))


def _example_in(unit: Unit, key: str, example: str) -> str:
    """An example in the job's own unit: the same figure of two keys is another measure in inches."""
    return in_unit_of(unit, f"{key}: {example}").partition(": ")[2]


def starts_html(surfaces: Sequence[Mapping[str, object]]) -> str:
    """The starts to choose from, surface by surface; their pictures are put in by the page."""
    return page_html("starts.html", surfaces=surfaces)
