"""No figure that decides is left in the code: it is a limit, or one of those named here, which are none."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import cutmarks

PACKAGE = Path(cutmarks.__file__).parent
NO_SETTINGS = {
    # Arithmetic: when a search has settled, how far a probe is set, what rounding may do.
    "setout/edges.py": {"FAR"},
    "setout/spans.py": {"ROUNDS"},
    "setout/surface.py": {"PAST"},
    "tiling/bonds.py": {"INSIDE"},
    "tiling/ends.py": {"BESIDE"},
    "tiling/frames.py": {"PROBE", "LONGEST_MITRE"},
    "tiling/moves.py": {"ROWS_LOOKED_AT", "ENDS_LOOKED_AT"},
    "locating/shapes.py": {"A_POINT"},
    "locating/adjust.py": {"SETTLED", "ROUNDS", "HALVINGS", "DEPENDENT", "UNCHECKED", "ONE_TEST"},
    "locating/network.py": {"SLOPE_OVER", "RIGHT_ANGLE"},
    "locating/precision.py": {"SIGMAS"},
    "locating/starts.py": {"MOST", "ASIDE"},
    "openings/corners.py": {"SHOWN", "_NEAR"},
    "openings/edge_work.py": {"HALF", "AT_THE_EDGE"},
    "openings/hidden.py": {"_HALF_TURN"},
    "openings/infills.py": {"LITTLE"},
    "fixing/beside.py": {"LOOK", "USUAL", "SQUARE_OVER", "PAST"},
    "fixing/sources.py": {"ON_LINE", "MOST_WALKED"},
    "openings/outlines.py": {"DIAGONAL", "LOOKED_AT", "RAKE"},
    "openings/sizing.py": {"SAME_CORE"},
    "registering/choice.py": {"_EXACT", "_MOST_STEPS"},
    "checks/advice.py": {"MOVES_LAID", "MOVES_TRIED", "STEPS_ASIDE"},
    "checks/alike.py": {"LEAST_SQUARE"},
    "checks/chance.py": {"FAR_OUT", "STEPS", "LEAST_SIGMA"},
    "checks/doubt.py": {"WHOLE"},
    "checks/frames.py": {"SLACK"},
    "checks/merged.py": {"MOST_NAMED"},
    "checks/opened.py": {"NEAR"},
    "checks/spaces.py": {"INSIDE", "MOST_JOINTS"},
    "checks/starts.py": {"MOST_TROUBLED"},
    # What is near, what is looked at, and how many are shown.
    "choosing/borders.py": {"SLANT", "ARC_PARTS", "PAST", "LONG", "BESIDE"},
    "choosing/choose.py": {"BEAM", "BEST_FEW", "UNLIKE"},
    "choosing/figures.py": {"GOOD", "FAIR", "POOR", "HAIR"},
    "choosing/moving.py": {"STEPS_ASIDE", "LOOKED_AT", "ALL_BUT", "CLOSE"},
    "choosing/offers.py": {"SAID_WITHIN"},
    "choosing/otherwise.py": {"NEAR_JOINT"},
    "choosing/steps.py": {"FINER", "ROOM"},
    "choosing/words.py": {"SIXTY_FOURTH"},
    "choosing/leaves.py": {"ALIKE", "LEG", "MOST_COURSES", "MOST_KEPT", "MOST_PHASES"},
    "choosing/search.py": {"UNSEATED", "WORKED_OUT", "FOR_SURE", "WORKED_OUT_UNLIKE", "REFINED", "KEPT_ALIKE"},
    "checks/strength.py": {"CM2", "IN2"},
    # The page: where what stands on it. The printer's margin is set in tools.yaml.
    "registering/candidates.py": {"_LEAST_SHOWN", "MOST_CUTS", "_MOST_BESIDE", "_MOST_PAIRED"},
    "registering/layouts.py": {"_SNAP"},
    "registering/paper.py": {
        *{
            "SAFE_MARGIN",
            "LEAST_MARGIN",
            "MOST_MARGIN",
            "FOOT",
            "SIDE",
        },
        "LONGEST",
    },
    # The printer's own, which are no job's: `check --why` prints them as fixed.
    "registering/calibration.py": {
        *{"NAMED_WITHIN", "ALIKE", "PRINTERS_OWN", "TO_BE_ASKED", "FINE", "MOST_SKEW", "DISAGREE", "MARGINS"},
        *{"SCREEN", "PRINT", "UNIT_WITHIN"},
    },
}


def test_no_figure_that_decides_is_left_in_the_code() -> None:
    """A new constant of a stage that decides is either a limit, or named above with those that are none."""
    found: dict[str, set[str]] = {}
    for stage in ("setout", "tiling", "locating", "fixing", "openings", "registering", "checks", "choosing"):
        for path in sorted((PACKAGE / stage).glob("*.py")):
            for name in figures_in(ast.parse(path.read_text(encoding="utf-8"))):
                found.setdefault(f"{stage}/{path.name}", set()).add(name)
    assert found == NO_SETTINGS


def figures_in(module: ast.Module) -> Iterator[str]:
    """The module's constants that are made of figures, tables and patterns left out."""
    for node in module.body:
        if not isinstance(node, ast.Assign | ast.AnnAssign) or node.value is None:
            continue
        if isinstance(node.value, ast.Dict) or ast.unparse(node.value).startswith(("re.", "MappingProxyType(")):
            continue
        if any(isinstance(one, ast.Constant) and type(one.value) in (int, float) for one in ast.walk(node.value)):
            for target in node.targets if isinstance(node, ast.Assign) else [node.target]:
                yield from (one.id for one in ast.walk(target) if isinstance(one, ast.Name))
