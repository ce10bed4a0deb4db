"""Pins that cannot all be met: the fewest that clash, and what letting go of each would cost."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from wayfold.base.findings import Finding, Severity
from wayfold.plan.model import PlanResult
from wayfold.plan.pins import describe_pin
from wayfold.plan.prepare import is_possible
from wayfold.plan.problem import Pin, PlanProblem


@dataclass(frozen=True, slots=True)
class Release:
    """Letting go of one pin: what the best plan costs then; None where others still clash."""

    pin: Pin
    cost: int | None


@dataclass(frozen=True, slots=True)
class Conflict:
    """Pins that clash together, none of which could be left out; releases, cheapest first."""

    pins: tuple[Pin, ...]
    releases: tuple[Release, ...]


def find_conflict(problem: PlanProblem, solve: Callable[[PlanProblem], PlanResult]) -> Conflict:
    """Find pins that clash, in a problem that has no plan but would have one without pins.

    Deletion filter: take each pin away in turn; where the rest still clash, it stays away. What
    is left is irreducible: every pin of it is part of the clash.
    """
    pins = list(problem.pins)
    for pin in problem.pins:
        others = [p for p in pins if p is not pin]
        if not is_possible(replace(problem, pins=tuple(others))):
            pins = others
    releases = [Release(pin, _price_release(problem, pin, solve)) for pin in pins]
    dear = max((r.cost for r in releases if r.cost is not None), default=0) + 1
    releases.sort(key=lambda r: dear if r.cost is None else r.cost)
    return Conflict(tuple(pins), tuple(releases))


def describe_conflict(conflict: Conflict) -> Finding:
    """Say in words which pins clash, and which to let go of first."""
    first = conflict.releases[0]
    others = [r for r in conflict.releases[1:] if r.cost is not None and first.cost is not None]
    dearer = "; ".join(
        f"or that {describe_pin(r.pin)} (costs {r.cost - first.cost} more)"
        for r in others
        if r.cost is not None and first.cost is not None
    )
    return Finding(
        "plan-conflict",
        Severity.BLOCK,
        ", ".join(f"block {pin.block}" for pin in conflict.pins),
        ("These cannot all be: " if len(conflict.pins) > 1 else "This cannot be: ")
        + "; ".join(describe_pin(pin) for pin in conflict.pins)
        + ".",
        f"Let go of one of them: the cheapest is that {describe_pin(first.pin)}"
        + (f"; {dearer}." if dearer else ".")
        if len(conflict.pins) > 1
        else "Take the pin out.",
    )


def _price_release(
    problem: PlanProblem, pin: Pin, solve: Callable[[PlanProblem], PlanResult]
) -> int | None:
    result = solve(replace(problem, pins=tuple(p for p in problem.pins if p is not pin)))
    return None if result.plan is None else result.cost
