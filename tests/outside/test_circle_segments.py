"""Circle segments: a round opening over a tile's edge takes the segment that a handbook tabulates."""

from __future__ import annotations

import math

import pytest

from cutmarks.geometry.edges import Arc
from cutmarks.geometry.rings import edges
from cutmarks.job import parse_job
from cutmarks.openings.model import Cut
from cutmarks.plan import make_plan


def notch(radius: float, depth: float) -> Cut:
    """A round opening that goes `depth` into the lower edge of the tile above the batten, mid tile."""
    below = radius - depth
    (piece,) = make_plan(
        parse_job(
            f"""
job: segment
tiles: {{t: {{size: 597 x 597, measured: yes}}}}
surfaces:
  - name: wall
    kind: wall
    lines: {{V: "plumb, middle", B: "level, batten"}}
    areas: [{{name: field, tile: t, joint: 3, from: B, start: {{across: middle on V, up: sits on B}}}}]
    holes:
      - {{name: stub, what: stub, diameter: 1, across: on V, up: centre {below} below B, opening: {2 * radius}}}
"""
        )
    ).pieces
    (cut,) = piece.cuts
    return cut


@pytest.mark.parametrize(
    ("radius", "depth", "chord"),
    [
        # Machinery's Handbook 31, p. 79: r = 60, h = 8, chord 59.86 (exact 59.8665; the book rounds the half first).
        (60, 8, 59.8665),
        # The same, c = 16, h = 6: r = 8 1/3.
        (25 / 3, 6, 16.0),
        # p. 50: r = 12, depth 2, chord 13.27.
        (12, 2, 13.27),
        # Whole numbers (Pythagoras): D 200: h 20 -> 120, h 40 -> 160; D 250: h 25 -> 150; D 130: h 40 -> 120.
        (100, 20, 120.0),
        (100, 40, 160.0),
        (125, 25, 150.0),
        (65, 40, 120.0),
    ],
)
def test_the_notch_has_the_handbook_s_chord(radius: float, depth: float, chord: float) -> None:
    cut = notch(radius, depth)
    assert cut.kind == "edge notch"
    box = cut.share.bounds
    assert box.height == pytest.approx(depth, abs=1e-6)
    (straight,) = [edge for ring in cut.share.rings for edge in edges(ring) if not isinstance(edge, Arc)]
    assert straight.length == pytest.approx(chord, abs=0.005)


def test_angle_arc_and_area_of_the_handbook_s_example() -> None:
    # Machinery's Handbook 31, p. 50: r = 12, depth 2: angle 67.13 degrees (exact 67.11), arc 14.06, area 18.01.
    cut = notch(12, 2)
    arcs = [edge for ring in cut.share.rings for edge in edges(ring) if isinstance(edge, Arc)]
    assert math.degrees(sum(abs(arc.sweep) for arc in arcs)) == pytest.approx(67.11, abs=0.005)
    assert sum(arc.length for arc in arcs) == pytest.approx(14.06, abs=0.005)
    # The book's area goes by its rounded angle and arc: 18.01; r^2 / 2 (a - sin a) with the exact angle is 18.00.
    assert cut.share.area == pytest.approx(18.01, abs=0.02)


def test_the_half_chord_past_an_edge() -> None:
    # R with its centre e beyond an edge: depth R - e, half-chord sqrt(R^2 - e^2) (Euclid III 3, Pythagoras).
    cut = notch(25, 21)
    assert cut.share.bounds.width == pytest.approx(2 * math.sqrt(25**2 - 4**2), abs=1e-9)
