"""Random networks of readings about one to three pipes on a wall, as a tiler might take them; drawn from a seed.

Standard deviations are half of what is common practice at two sigma: both sides of a pipe 1, by eye to the centre 2,
from floor or corner 4, a tape from a nail 1.5, pitch and level of a pair 1 (mm). The two nails that the tapes are held
to were read too, by eye: their places are unknowns behind the pipes'.
"""

from __future__ import annotations

import random
from collections.abc import Sequence

from msgspec import Struct

from cutmarks.locating.adjust import Observation, Predicted
from cutmarks.locating.models import coordinate, difference, distance

NAILS = 2
BOTH_SIDES, BY_EYE, FROM_EDGE, TAPE, PAIR = 0.5, 1.0, 2.0, 0.75, 0.5


class Network(Struct, frozen=True):
    """Where the pipes, then the nails truly are; each reading's model and standard deviation, the nails' last."""

    true: tuple[float, ...]
    models: tuple[tuple[Predicted, float], ...]

    @property
    def of_nails(self) -> range:
        """The readings of the nails themselves."""
        return range(len(self.models) - NAILS * 2, len(self.models))

    def read(self, rng: random.Random, blunder: tuple[int, float] | None = None) -> list[Observation]:
        """One set of readings; `blunder` adds so many mm to the reading of that index."""
        taken = []
        for index, (model, sigma) in enumerate(self.models):
            value = model(self.true)[0] + rng.gauss(0.0, sigma)
            if blunder is not None and blunder[0] == index:
                value += blunder[1]
            taken.append(Observation(f"reading {index}", value, sigma, model))
        return taken

    def start(self, rng: random.Random) -> Sequence[float]:
        """Somewhere near."""
        return [value + rng.uniform(-5, 5) for value in self.true]


def network(rng: random.Random) -> Network:
    """Every pipe is determined, most by more readings than needed."""
    pipes = rng.randint(1, 3)
    true: list[float] = []
    models: list[tuple[Predicted, float]] = []
    points = [(rng.uniform(-1200, -200), rng.uniform(1700, 2200)), (rng.uniform(200, 1200), rng.uniform(1700, 2200))]
    for pipe in range(pipes):
        true += [rng.uniform(-600, 600), rng.uniform(150, 1300)]
        x, y = 2 * pipe, 2 * pipe + 1
        models += [(coordinate(x), rng.choice((BOTH_SIDES, BY_EYE))), (coordinate(y), BOTH_SIDES)]
        nails = [2 * pipes + 2 * number for number in range(NAILS)]
        models += [(distance((nail, nail + 1), (x, y)), TAPE) for nail in nails]
        for _ in range(rng.randint(0, 3)):
            axis = rng.choice((x, y))
            models.append((coordinate(axis), rng.choice((BOTH_SIDES, BY_EYE, FROM_EDGE))))
        if pipe:
            models += [(distance((x - 2, y - 2), (x, y)), PAIR), (difference(y - 2, y), PAIR)]
    models += [(coordinate(2 * pipes + index), BY_EYE) for index in range(2 * NAILS)]
    return Network((*true, *(value for point in points for value in point)), tuple(models))
