"""Pins: what the person holds fast, read into the demands, and said in words where it cannot be."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from wayfold.base.findings import Finding, Severity
from wayfold.plan.demands import Demand, Way
from wayfold.plan.model import Plan
from wayfold.plan.paper import is_recto
from wayfold.plan.problem import Pin, PinCentre, PinPage, PinPlace, PinWay, PlanProblem
from wayfold.story.model import Start


def bind_demands(
    demands: Sequence[Demand], pins: Sequence[Pin], last: Plan | None
) -> tuple[tuple[Demand, ...], tuple[Pin, ...]]:
    """Give the demands with all pins in them, and the pins that cannot be met beside the others.

    Each pin is looked at by itself and with those on the same block only.
    """
    bound = {demand.block: demand for demand in demands}
    clashing = []
    for pin in pins:
        for single in _split_place(pin, last):
            demand = bound.get(single.block)
            tightened = None if demand is None else _tighten(demand, single)
            if tightened is None:
                clashing.append(pin)
                break
            bound[single.block] = tightened
    return tuple(bound[d.block] for d in demands), tuple(clashing)


def judge_pins(problem: PlanProblem, demands: Sequence[Demand]) -> Iterator[tuple[Pin, Finding]]:
    """Name each pin that cannot be met whatever the rest of the book does."""
    known = {demand.block: demand for demand in demands}
    for pin in problem.pins:
        why = _find_fault(pin, known.get(pin.block), problem.last)
        if why:
            yield (
                pin,
                Finding(
                    "plan-pin",
                    Severity.BLOCK,
                    f"block {pin.block}",
                    f"{describe_pin(pin)}: {why[0]}",
                    why[1],
                ),
            )


def describe_pin(pin: Pin) -> str:
    """Say in words what a pin asks."""
    match pin:
        case PinPage(block, page):
            return f"{block} is pinned to page {page}"
        case PinCentre(block):
            return f"{block} is pinned to the centre of a gathering"
        case PinWay(block, way):
            return f"{block} is pinned to way {way + 1}"
        case PinPlace(block):
            return f"{block} is pinned to where it was"


def last_pinned_leaf(demands: Sequence[Demand]) -> int:
    """Give the book's leaf (from 0) up to which pages must be counted; -1 where none is pinned."""
    return max(((d.page + 1) // 2 - 1 for d in demands if d.page is not None), default=-1)


def _split_place(pin: Pin, last: Plan | None) -> tuple[Pin, ...]:
    if not isinstance(pin, PinPlace):
        return (pin,)
    ways = dict(last.choices) if last is not None else {}
    if last is None or pin.block not in ways:
        return (PinPage(pin.block, 0),)
    return (PinPage(pin.block, last.first_page_of(pin.block)), PinWay(pin.block, ways[pin.block]))


def _tighten(demand: Demand, pin: Pin) -> Demand | None:
    """Give the demand with one pin more; None where it cannot be."""
    if isinstance(pin, PinPage):
        if pin.page < 1 or demand.page not in (None, pin.page):
            return None
        demand = replace(demand, page=pin.page)
    elif isinstance(pin, PinCentre):
        demand = replace(demand, centred=True)
    elif isinstance(pin, PinWay):
        demand = replace(demand, ways=tuple(w for w in demand.ways if w.index == pin.way))
    ways = tuple(way for way in demand.ways if _suits(demand, way))
    return replace(demand, ways=ways) if ways else None


def _suits(demand: Demand, way: Way) -> bool:
    if demand.centred and not way.spreads:
        return False
    if demand.page is None or way.side is Start.ANY:
        return True
    return (way.side is Start.RECTO) == is_recto(demand.page)


def _find_fault(pin: Pin, demand: Demand | None, last: Plan | None) -> tuple[str, str] | None:
    if demand is None:
        return "the story has no such block.", "Take the pin out."
    if isinstance(pin, PinPlace) and (last is None or pin.block not in dict(last.choices)):
        return "there is no earlier plan with it to keep to.", "Plan once without this pin."
    if isinstance(pin, PinPage) and pin.page < 1:
        return "a book's pages begin with 1.", "Name page 1 or a later one."
    if all(_tighten(demand, single) for single in _split_place(pin, last)):
        return None
    if isinstance(pin, PinPage | PinPlace):
        page = pin.page if isinstance(pin, PinPage) else 0
        if isinstance(pin, PinPage):
            side, other = ("right", "left") if is_recto(page) else ("left", "right")
            return (
                f"that is a {side} page, and it must begin on a {other} one.",
                f"Pin it to page {page - 1 if page > 1 else page + 1} or {page + 1}.",
            )
        return "it can no longer be laid as it was.", "Take the pin out."
    if isinstance(pin, PinCentre):
        return "it has no picture across two pages.", "Let a picture of it cross the fold."
    return "there is no such way to lay it.", "Choose one of the ways the story gives it."
