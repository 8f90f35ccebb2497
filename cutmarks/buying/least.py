"""The fewest tiles that give all the pieces, of the ways in which one tile can be cut: a whole-number programme, exact.

Choosing two pieces a tile is a matching, three and more cutting stock: both are this one programme, which the solver of
scipy solves to its proven end. It is loaded only where a tile can give two pieces at all.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

MOST_NODES = 50_000
"""The solver looks at so many branches at most: a count and no time, so that it ends alike on every machine."""


def fewest(ways: Sequence[Mapping[int, int]], dear: Sequence[float], wanted: Sequence[int]) -> list[int] | None:
    """How often each way is taken, so that fewest are taken in all; each kind may also come alone.

    Of the choices that take no more the one with the least of `dear` is taken. `ways`: how many of each kind one gives.
    None: the solver came to no proven end.
    """
    import numpy as np
    from scipy.optimize import Bounds, LinearConstraint, milp
    from scipy.sparse import csr_array, identity, vstack

    rows = [kind for way in ways for kind in way]
    columns = [number for number, way in enumerate(ways) for _ in way]
    gives = csr_array(([many for way in ways for many in way.values()], (rows, columns)), (len(wanted), len(ways)))
    alone = identity(len(wanted), format="csr")
    gives = csr_array(vstack([gives.T, alone]).T)
    covers = LinearConstraint(gives, lb=np.asarray(wanted, dtype=float))
    ones = np.ones(gives.shape[1])

    def solved(cost: Sequence[float], *held: LinearConstraint) -> list[int] | None:
        found = milp(
            cost,
            constraints=[covers, *held],
            integrality=ones,
            bounds=Bounds(0.0, float(max(wanted))),
            options={"mip_rel_gap": 0.0, "node_limit": MOST_NODES},
        )
        return [round(value) for value in found.x] if found.status == 0 else None

    least = solved([1.0] * len(ones))
    if least is None:
        return None
    limit = LinearConstraint(csr_array(ones.reshape(1, -1)), ub=float(sum(least)))
    nearest = solved([*dear, *(0.0 for _ in wanted)], limit)
    return (least if nearest is None else nearest)[: len(ways)]
