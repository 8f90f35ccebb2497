"""Order, acceptance, mirror images, what runs on, kinds that were not said."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

from cutmarks.checks.rules import NAMES as RULE_NAMES
from cutmarks.checks.rules import RULES
from cutmarks.job.limits import NAMES
from tests.checks.jobs import hole, only, plan, said

ROOT = Path(__file__).parent.parent.parent
CHECKS = ROOT / "cutmarks" / "checks"


def test_what_spoils_most_comes_first() -> None:
    made = plan(
        hole("leaky", x=39, opening=35),  # 20 of tile left: to look at
        hole("fat", x=450, opening=14),  # does not go through: stops
        hole("bare", x=750, y=700, opening=62),  # its cover laps 1.5: to look at, and shows when it is off
    )
    levels = [finding.level for finding in made.findings]
    assert levels == sorted(levels, key=["stop", "warn", "note"].index)
    rules = [finding.rule for finding in made.findings]
    assert rules.index("does not go through") < rules.index("cover laps little") < rules.index("thin bridge")


def test_every_rule_has_its_place_in_the_order_and_no_other_has() -> None:
    emitted = {
        rule for path in (ROOT / "cutmarks").rglob("*.py") for rule in rules_in(ast.parse(path.read_text("utf-8")))
    }
    assert sorted(RULE_NAMES) == sorted(emitted)


def test_each_rule_stands_in_the_table_with_the_look_that_says_it() -> None:
    table: dict[str, set[str]] = {}
    for rule in RULES:
        if rule.look is not None:
            table.setdefault(rule.look.__name__, set()).add(rule.name)
    tree = module_of("rules")
    called = {
        node.name: next(
            call.func
            for call in ast.walk(node)
            if isinstance(call, ast.Call)
            and isinstance(call.func, ast.Attribute)
            and isinstance(call.func.value, ast.Name)
            and (CHECKS / f"{call.func.value.id}.py").exists()
        )
        for node in tree.body
        if isinstance(node, ast.FunctionDef) and node.name in table
    }
    assert {look: said_by(ast.unparse(func)) for look, func in called.items()} == table


def test_a_function_says_what_those_that_it_calls_say() -> None:
    tree = ast.parse(
        'def one():\n    Finding("stop", "a")\n    two()\ndef two():\n    Finding("note", "b")\n'
        'def other():\n    Finding("note", "c")'
    )
    assert said_from("one", tree) == {"a", "b"}


def test_each_name_stands_in_one_row() -> None:
    assert len(set(RULE_NAMES)) == len(RULE_NAMES)


def test_a_rule_is_found_wherever_a_finding_may_carry_it() -> None:
    tree = ast.parse('A = "one"\nFinding("stop", A)\nx.Finding("note", rule="two")\nreplace(old, rule="three")')
    assert set(rules_in(tree)) == {"one", "two", "three"}
    with pytest.raises(AssertionError):
        list(rules_in(ast.parse('Finding("stop", name())')))


def module_of(name: str) -> ast.Module:
    """The source of one module of the rules."""
    return ast.parse((CHECKS / f"{name}.py").read_text("utf-8"))


def said_by(function: str) -> set[str]:
    """The rules that "module.function" of the rules may say."""
    module, _, name = function.partition(".")
    return said_from(name, module_of(module))


def said_from(name: str, module: ast.Module) -> set[str]:
    """The rules that a function of a module may say, itself or by one that it names."""
    functions = {node.name: node for node in module.body if isinstance(node, ast.FunctionDef)}
    due, seen = [name], set()
    while due:
        at = due.pop()
        seen.add(at)
        named = {node.id for node in ast.walk(functions[at]) if isinstance(node, ast.Name)}
        due += [other for other in named & set(functions) if other not in seen]
    constants = [node for node in module.body if isinstance(node, ast.Assign)]
    return set(rules_in(ast.Module([*constants, *(functions[one] for one in seen)], [])))


def rules_in(module: ast.Module) -> Iterator[str]:
    """Every rule that a call in a module gives to a finding, as a string or by a constant of the module."""
    constants = {
        target.id: node.value.value
        for node in module.body
        if isinstance(node, ast.Assign) and isinstance(node.value, ast.Constant)
        for target in node.targets
        if isinstance(target, ast.Name)
    }
    for node in ast.walk(module):
        if not isinstance(node, ast.Call):
            continue
        called = node.func.id if isinstance(node.func, ast.Name) else getattr(node.func, "attr", "")
        given = [keyword.value for keyword in node.keywords if keyword.arg == "rule"]
        if called == "Finding":
            given += node.args[1:2]
        for rule in given:
            name = constants.get(rule.id) if isinstance(rule, ast.Name) else getattr(rule, "value", None)
            assert isinstance(name, str), f"a rule that is no plain string: {ast.unparse(node)[:80]}"
            yield name


def test_every_limit_is_used() -> None:
    source = "".join(
        path.read_text(encoding="utf-8") for path in (ROOT / "cutmarks").rglob("*.py") if path.name != "limits.py"
    )
    unused = [name for name in NAMES.values() if f"limits.{name}" not in source and f"figures().{name}" not in source]
    assert unused == []


def test_a_finding_is_accepted_by_name_with_its_reason() -> None:
    accept = [{"rule": "thin bridge", "about": "riser", "reason": "behind the panel"}]
    made = plan(hole(x=29, opening=35), accept=accept)
    assert only(made, "thin bridge").accepted == "behind the panel"


def accepting(rule: str, about: str = "") -> str:
    """What is said of an entry that no finding of a thin bridge, 11.5 beside the hole riser, answers to."""
    entry = {"rule": rule, "reason": "seen", **({"about": about} if about else {})}
    return only(plan(hole(x=29, opening=35), accept=[entry]), "accepted, not found").text


def test_an_entry_that_no_finding_answers_to_is_said() -> None:
    note = only(plan(hole(), accept=[{"rule": "thin bridge", "reason": "seen"}]), "accepted, not found")
    assert note.level == "note"
    assert note.text == (
        'Under accept: "thin bridge" is for no finding of this job: take it out if what it was for is put right.'
    )


def test_a_slip_in_what_is_accepted_has_the_name_that_was_meant() -> None:
    assert accepting("thin brigde").endswith("and no rule is called that. Did you mean thin bridge?")
    assert accepting("Thin bridge").endswith("Did you mean thin bridge?")
    assert accepting("zzz").endswith("A finding's rule is printed behind it by cutmarks check.")
    text = accepting("thin bridge", "risre")
    assert '"thin bridge" about risre is for no finding: it is said of ' in text
    assert text.endswith("Did you mean riser?")


def test_an_entry_that_a_finding_answers_to_is_not_said() -> None:
    made = plan(hole(x=29, opening=35), accept=[{"rule": "thin bridge", "reason": "seen"}])
    assert not said(made, "accepted, not found")
    # The note itself can be accepted, as an entry that is kept for a later state of the job.
    kept = [{"rule": "much cut out", "reason": "later"}, {"rule": "accepted, not found", "reason": "kept"}]
    notes = said(plan(hole(), accept=kept), "accepted, not found")
    assert [note.accepted for note in notes if "much cut out" in note.text] == ["kept"]


def test_hot_and_cold_that_are_mirror_images() -> None:
    # 100 from the left of one tile, 100 from the right of the next: 1.5 + 100, and 301.5 + 297 - 100.
    made = plan(hole("hot", x=101.5), hole("cold", x=498.5))
    assert only(made, "mirror images").about == ("field 1-5", "field 1-6")
    assert not said(plan(hole("hot", x=101.5), hole("cold", x=401.5)), "mirror images")
    assert not said(plan(hole("hot", x=150.0), hole("cold", x=450.0)), "mirror images")


def test_a_pipe_that_runs_on_is_told_where_a_slot_is_hidden() -> None:
    # 15 copper in a 35 hole 20 from the left edge: a rose of 86 hides the slot to that edge (test_strength), one of 65
    # does not.
    keys = {"end": "runs on", "opening": 35}
    assert "slot: towards the left" in only(plan(hole(x=39, cover=86, **keys)), "cannot be put on").text
    assert "last resort" in only(plan(hole(x=39, cover=65, **keys)), "cannot be put on").text


def test_a_slot_to_slide_along() -> None:
    # A 35 hole and 12 to slide: 35 wide, 47 long, towards the right; its middle stays where the pipe is.
    made = plan(hole(opening=35, slot="12 towards the right"))
    (opening,) = made.openings
    box = opening.ring.bounds
    assert (box.min_x, box.max_x) == (pytest.approx(150 - 17.5), pytest.approx(150 + 17.5 + 12))
    assert (opening.at.x, opening.core) == (150.0, None)


def test_a_kind_that_was_not_said_is_matched() -> None:
    # 15 across is EN 1057 copper 15; nothing of the trade is 19 across within 2.
    keys = {"what": "", "end": "comes off", "cover": "none"}
    read = {**hole(**keys), "across": "142.5 to 157.5 right of V", "up": "92.5 to 107.5 above B"}
    assert "15 copper (15)" in only(plan(read), "kind not said").text
    wrong = {**read, "across": "100 to 219 right of V", "up": "40 to 159 above B"}
    assert only(plan(wrong), "kind not said").level == "warn"
    assert not said(plan(hole()), "kind not said")


def test_a_slot_that_cannot_be_drawn_is_told() -> None:
    # The middle lies on V, in the joint.
    assert only(plan(hole(x=0.5, slot="towards the left")), "slot not drawn").level == "stop"
    corners = [["100 right of V", "50 above B"], ["140 right of V", "50 above B"], ["140 right of V", "90 above B"]]
    outlined = {"name": "odd", "outline": corners, "slot": "towards the left", "cover": "none"}
    assert said(plan(outlined), "slot not drawn")
    assert not said(plan(hole(slot="towards the left")), "slot not drawn")
