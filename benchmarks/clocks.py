"""How well clocks are read on simulated journeys, and how long it takes.

``python benchmarks/clocks.py [JOURNEYS]`` prints a row for each kind of party; the simulation is
described in ``tests/trip/clock_world.py``.
"""

from __future__ import annotations

import sys
from math import inf
from pathlib import Path
from time import perf_counter

sys.path.insert(0, str(Path(__file__).resolve().parent.parent))

from tests.trip.clock_world import make_world, measure
from wayfold.trip.clocks.model import State
from wayfold.trip.clocks.read import read_clocks

PARTIES = {
    "one telephone": {"phones": 1},
    "two telephones": {"phones": 2},
    "a track": {"phones": 0, "track": True},
    "telephone and track": {"phones": 1, "track": True},
    "neither": {"phones": 0},
}


def run(party: dict[str, int], journeys: int) -> str:
    errors: list[float] = []
    bodies = unknown = within = 0
    began = perf_counter()
    for seed in range(journeys):
        world = make_world(seed, **party)  # type: ignore[arg-type]
        clocks = read_clocks(world.photos, world.evidence)
        readings = {r.body.key: r for r in clocks.readings}
        for body in world.bodies:
            bodies += 1
            error = measure(world, dict(clocks.instants), body)
            unknown += readings[body].state is State.UNKNOWN
            if error is not None:
                errors.append(error)
                stated = [s.error_s for s in readings[body].spans if s.error_s < inf]
                within += error <= max(stated, default=0.0)
    spent = (perf_counter() - began) / journeys
    errors.sort()
    good = sum(e <= 60 for e in errors)
    p95 = errors[int(0.95 * (len(errors) - 1))] if errors else 0.0
    middle = errors[len(errors) // 2] if errors else 0.0
    return (
        f"{bodies:6} {good / bodies:8.1%} {unknown / bodies:8.1%} {len(errors) - good:6} "
        f"{middle:7.0f} {p95:7.0f} {within / max(1, len(errors)):9.1%} {spent:8.2f}"
    )


if __name__ == "__main__":
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 100
    print(f"{'party':20} bodies   ≤ 60 s not known  > 60 s  median s  p95 s  in stated  s each")
    for name, party in PARTIES.items():
        print(f"{name:20} {run(party, count)}")
