"""Reading a finished PDF back: what is inked on a page, in mm, by a reader that shares no code with the writers."""

from __future__ import annotations

import math
from io import BytesIO

import pypdf
import pytest
from pypdf.generic import ContentStream

MM = 72.0 / 25.4
"""Points in a millimetre: a point is 1/72 in (ISO 32000-1, 8.3.2.3)."""
HUNDREDTH = 0.01


def reader_of(data):
    return pypdf.PdfReader(BytesIO(data))


def strokes(page, reader):
    """Every stroked path of a page as a list of points in mm from the paper's bottom left, with its line width."""
    return [(path, width) for path, width, _ in dashed_strokes(page, reader)]


def dashed_strokes(page, reader):
    """The same with how many dashes and gaps make up the line's pattern; 0 for a continuous line.

    q, Q, cm, w, d, m, l, c, h, re, S and forms (Do) are understood.
    """
    found: list = []
    _run(ContentStream(page.get_contents(), reader), page["/Resources"], (1.0, 0.0, 0.0, 1.0, 0.0, 0.0), found, reader)
    return found


def _times(one, other):
    a, b, c, d, e, f = one
    p, q, r, s, t, u = other
    return (a * p + b * r, a * q + b * s, c * p + d * r, c * q + d * s, e * p + f * r + t, e * q + f * s + u)


def _run(stream, resources, matrix, found, reader):
    stack, path, width, dashes = [], [], 1.0, 0
    for operands, operator in stream.operations:
        values = [float(value) for value in operands] if operator in _WITH_NUMBERS else []
        match operator:
            case b"q":
                stack.append((matrix, width, dashes))
            case b"Q":
                matrix, width, dashes = stack.pop()
            case b"cm":
                matrix = _times(values, matrix)
            case b"w":
                width = values[0]
            case b"d":
                dashes = len(operands[0])
            case b"m" | b"l":
                path.append((operator.decode(), _points(values, matrix)))
            case b"re":
                x, y, w, h = values
                path.append(("re", _points([x, y, x + w, y, x + w, y + h, x, y + h], matrix)))
            case b"c":
                path.append(("c", _points(values, matrix)))
            case b"S" | b"s":
                size = math.sqrt(abs(matrix[0] * matrix[3] - matrix[1] * matrix[2]))
                found.append((path, width * size / MM, dashes))
                path = []
            case b"f" | b"f*" | b"n" | b"B":
                path = []
            case b"Do":
                form = resources["/XObject"][operands[0]].get_object()
                inner = [float(value) for value in form.get("/Matrix", (1, 0, 0, 1, 0, 0))]
                _run(ContentStream(form, reader), form["/Resources"], _times(inner, matrix), found, reader)


_WITH_NUMBERS = {b"cm", b"w", b"m", b"l", b"c", b"re"}


def _points(values, matrix):
    a, b, c, d, e, f = matrix
    pairs = zip(values[0::2], values[1::2], strict=True)
    return [((a * x + c * y + e) / MM, (b * x + d * y + f) / MM) for x, y in pairs]


def straight(found, width):
    """The straight strokes of one line width, as ((x0, y0), (x1, y1))."""
    return [
        (path[0][1][0], path[1][1][0])
        for path, wide in found
        if [step for step, _ in path] == ["m", "l"] and wide == pytest.approx(width, abs=0.005)
    ]


def circles(found, radius):
    """The centres of the full circles of one radius: the middle of their curves' outermost points."""
    centres = []
    for path, _ in found:
        ends = [points[-1] for step, points in path if step == "c"]
        if len(ends) < 4:
            continue
        xs, ys = zip(*ends, strict=True)
        centre = ((min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2)
        if all(math.hypot(x - centre[0], y - centre[1]) == pytest.approx(radius, abs=0.02) for x, y in ends):
            centres.append(centre)
    return centres
