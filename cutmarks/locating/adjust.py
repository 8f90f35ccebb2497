"""Least squares: more readings than needed, each with its own precision, made to agree with the least change.

Readings are taken as independent and normal. Each is a function of the unknowns; the functions are linearised about
the last values and solved by orthogonalising the weighted columns, until nothing moves (Gauss and Newton). Units are
the caller's: the unknowns', and each reading's own.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence

from msgspec import Struct

Predicted = Callable[[Sequence[float]], tuple[float, Mapping[int, float]]]
"""From the unknowns to what the reading should be, and how it changes with each unknown (by index)."""
Columns = list[list[float]]

SETTLED = 1e-9
"""A step less than this, in the unknowns' own unit and against their size where that is over 1, changes nothing."""
ROUNDS = 300
HALVINGS = 12
"""A step that makes things worse is halved at most this often."""
DEPENDENT = 1e-10
"""A column of which less than this part is its own says nothing that the others do not say."""
UNCHECKED = 1e-6
"""A reading with less redundancy than this is checked by no other."""
ONE_TEST = 1.0 - 1e-9
"""Readings whose residuals are correlated by this much or more are tested by one and the same figure."""


class Undetermined(ValueError):
    """The readings do not say where an unknown is; `unknown` is its index."""

    def __init__(self, unknown: int) -> None:
        super().__init__(f"unknown {unknown} is not determined")
        self.unknown = unknown


class Unsettled(ValueError):
    """The readings contradict each other so much that no place settles."""


class Observation(Struct, frozen=True):
    """One reading: how it is said, what was read, its standard deviation, and what it should be."""

    name: str
    value: float
    sigma: float
    model: Predicted


class Adjusted(Struct, frozen=True):
    """The unknowns that fit best, and how well.

    values      the unknowns; covariance: theirs, from the readings' own standard deviations.
    residuals   adjusted less read, one a reading, in its own unit.
    redundancy  of each reading: 0 where nothing checks it, 1 where it adds nothing; their sum is `freedom`.
    normalised  residuals over their own standard deviations; 0 where nothing checks the reading.
    correlation of the residuals with each other; 0 where either is not checked.
    freedom     readings less unknowns.
    spread      the standard deviation of unit weight, sqrt(sum of (residual / sigma)^2 / freedom); 1 is as expected,
                and it is 1 where nothing is over.
    """

    values: tuple[float, ...]
    covariance: tuple[tuple[float, ...], ...]
    residuals: tuple[float, ...]
    redundancy: tuple[float, ...]
    normalised: tuple[float, ...]
    correlation: tuple[tuple[float, ...], ...]
    freedom: int
    spread: float

    @property
    def misfit(self) -> float:
        """The weighted sum of squares, without a unit: what was made least."""
        return self.freedom * self.spread**2 if self.freedom else 0.0


class Wrong(Struct, frozen=True):
    """A reading that does not fit.

    index     the reading's; `mirrored` those that cannot be told from it.
    off       by how much it seems to be off: read less what the others say, in its own unit.
    normalised, limit  its normalised residual, and what that may be.
    """

    index: int
    mirrored: tuple[int, ...]
    off: float
    normalised: float
    limit: float


def adjust(observations: Sequence[Observation], start: Sequence[float]) -> Adjusted:
    """The unknowns that make the weighted sum of squared residuals least, searched from `start`.

    Raises:
        Undetermined: the readings leave an unknown free at the place that was reached.
        Unsettled: no place was reached within the rounds.
    """
    values = list(start)
    before = _misfit(observations, values)
    for _ in range(ROUNDS):
        columns, rest = _weighted(observations, values)
        basis, upper = orthogonalised(columns)
        step = _solved_back(upper, [_dot(column, rest) for column in basis])
        values, before, moved = _stepped(observations, values, step, before)
        if all(abs(part) <= SETTLED * max(1.0, abs(value)) for part, value in zip(moved, values, strict=True)):
            return _judged(observations, values)
    raise Unsettled("the readings contradict each other: no place settles")


def wrong_reading(adjusted: Adjusted, level: float, mirrored: float) -> Wrong | None:
    """The reading that fits least, where its normalised residual is over the limit for all tests together.

    The limit shares `level` between the tests (Bonferroni), two-sided (Baarda's data snooping with standard deviations
    known beforehand). Readings that nothing checks have none; readings that nothing tells apart, as a tape and the nail
    that it alone is held to, have one, and the first of them stands for it. Readings whose residuals are correlated by
    `mirrored` cannot be told apart well enough.
    """
    every = [index for index, part in enumerate(adjusted.redundancy) if part > UNCHECKED]
    checked: list[int] = []
    for index in every:
        if all(abs(adjusted.correlation[index][one]) < ONE_TEST for one in checked):
            checked.append(index)
    if not checked:
        return None
    from statistics import NormalDist  # late: most jobs have no reading to spare, and it is slow to load

    limit = NormalDist().inv_cdf(1.0 - level / (2 * len(checked)))
    worst = max(checked, key=lambda index: abs(adjusted.normalised[index]))
    if abs(adjusted.normalised[worst]) <= limit:
        return None
    return Wrong(
        worst,
        tuple(i for i in every if i != worst and abs(adjusted.correlation[worst][i]) >= mirrored),
        -adjusted.residuals[worst] / adjusted.redundancy[worst],
        abs(adjusted.normalised[worst]),
        limit,
    )


def orthogonalised(columns: Sequence[Sequence[float]]) -> tuple[Columns, Columns]:
    """(Q, R) of the matrix with these columns, Q by columns and R by rows: modified Gram-Schmidt, done twice over.

    Raises:
        Undetermined: a column depends on those before it.
    """
    basis: Columns = []
    count = len(columns)
    upper = [[0.0] * count for _ in range(count)]
    for j, column in enumerate(columns):
        left = list(column)
        size = math.hypot(*left)
        for _ in range(2):
            for i, one in enumerate(basis):
                part = _dot(one, left)
                upper[i][j] += part
                left = [value - part * along for value, along in zip(left, one, strict=True)]
        own = math.hypot(*left)
        if own <= DEPENDENT * size:
            raise Undetermined(j)
        upper[j][j] = own
        basis.append([value / own for value in left])
    return basis, upper


def _weighted(observations: Sequence[Observation], values: Sequence[float]) -> tuple[Columns, list[float]]:
    """The columns of the design matrix and what is left to explain, both over the standard deviations."""
    columns = [[0.0] * len(observations) for _ in values]
    rest = []
    for row, one in enumerate(observations):
        should, partials = one.model(values)
        rest.append((one.value - should) / one.sigma)
        for index, partial in partials.items():
            columns[index][row] += partial / one.sigma
    return columns, rest


def _misfit(observations: Sequence[Observation], values: Sequence[float]) -> float:
    return sum(((one.model(values)[0] - one.value) / one.sigma) ** 2 for one in observations)


def _stepped(
    observations: Sequence[Observation], values: Sequence[float], step: Sequence[float], before: float
) -> tuple[list[float], float, list[float]]:
    """The unknowns after a step, halved until it makes nothing worse: they, their misfit, and the step taken."""
    part = 1.0
    for _ in range(HALVINGS):
        moved = [part * along for along in step]
        tried = [value + along for value, along in zip(values, moved, strict=True)]
        misfit = _misfit(observations, tried)
        if misfit <= before:
            return tried, misfit, moved
        part /= 2
    # What is left to gain is less than arithmetic can tell.
    return list(values), before, [0.0] * len(values)


def _judged(observations: Sequence[Observation], values: Sequence[float]) -> Adjusted:
    columns, rest = _weighted(observations, values)
    basis, upper = orthogonalised(columns)
    count, unknowns = len(observations), len(values)
    # What the readings keep of their own errors: M = I - Q Q', over the standard deviations on both sides.
    keeps = [
        [(1.0 if i == j else 0.0) - sum(one[i] * one[j] for one in basis) for j in range(count)] for i in range(count)
    ]
    own = [max(0.0, keeps[i][i]) for i in range(count)]
    checked = [part > UNCHECKED for part in own]
    freedom = count - unknowns
    return Adjusted(
        values=tuple(values),
        covariance=_covariance(upper),
        residuals=tuple(-left * one.sigma for left, one in zip(rest, observations, strict=True)),
        redundancy=tuple(own),
        normalised=tuple(-rest[i] / math.sqrt(own[i]) if checked[i] else 0.0 for i in range(count)),
        correlation=tuple(
            tuple(keeps[i][j] / math.sqrt(own[i] * own[j]) if checked[i] and checked[j] else 0.0 for j in range(count))
            for i in range(count)
        ),
        freedom=freedom,
        spread=math.sqrt(sum(left * left for left in rest) / freedom) if freedom > 0 else 1.0,
    )


def _covariance(upper: Columns) -> tuple[tuple[float, ...], ...]:
    """(R'R)^-1 by the columns of R^-1."""
    count = len(upper)
    inverse = [_solved_back(upper, [1.0 if i == j else 0.0 for i in range(count)]) for j in range(count)]
    return tuple(
        tuple(sum(inverse[k][i] * inverse[k][j] for k in range(count)) for j in range(count)) for i in range(count)
    )


def _solved_back(upper: Columns, right: Sequence[float]) -> list[float]:
    count = len(right)
    solved = [0.0] * count
    for i in reversed(range(count)):
        solved[i] = (right[i] - sum(upper[i][j] * solved[j] for j in range(i + 1, count))) / upper[i][i]
    return solved


def _dot(one: Sequence[float], other: Sequence[float]) -> float:
    return math.fsum(a * b for a, b in zip(one, other, strict=True))
