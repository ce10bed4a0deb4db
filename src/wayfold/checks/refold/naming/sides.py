"""Faults of a printed side: turned, mirrored, left and right exchanged, the other duplex edge."""

from __future__ import annotations

from dataclasses import dataclass

from wayfold.base.findings import Finding
from wayfold.checks.refold.folding import Turning
from wayfold.checks.refold.naming.evidence import (
    Evidence,
    Naming,
    PrintedSide,
    block,
    capital,
    is_wrong,
    list_sides,
)
from wayfold.checks.refold.paper import Side


@dataclass(frozen=True, slots=True)
class _Way:
    """One way a whole side can be wrong: do the halves change, and how does each page stand?"""

    name: str
    swapped: bool
    turn_deg: int
    mirrored: bool


_WAYS = (
    _Way("turned", True, 180, False),
    _Way("exchanged", True, 0, False),
    _Way("upside-down", False, 180, False),
    _Way("mirrored", True, 0, True),
    _Way("mirrored", True, 180, True),
    _Way("mirrored", False, 0, True),
    _Way("mirrored", False, 180, True),
)

_OTHER_EDGE = {
    Turning.SHORT_EDGE: "long",
    Turning.LONG_EDGE: "short",
    Turning.MANUAL: "long",
}


def name_sides(evidence: Evidence, explained: frozenset[int]) -> Naming:
    """Name every side that is wrong as a whole; a fault of all backs is named once."""
    sides = [s for s in list_sides(evidence) if not explained.issuperset(s.pages)]
    wrong = {s: way for s in sides if (way := _way_of(evidence, s)) is not None}
    findings: list[Finding] = []
    told = _name_duplex(evidence, sides, wrong, findings)
    for side, way in wrong.items():
        if side not in told:
            findings.append(_name_side(side, way))
    return Naming(tuple(findings), frozenset(n for s in wrong for n in s.pages))


def _way_of(evidence: Evidence, side: PrintedSide) -> _Way | None:
    left, right = (evidence.views[n] for n in side.pages)
    if not (is_wrong(left) or is_wrong(right)):
        return None
    for way in _WAYS:
        first, second = side.pages[::-1] if way.swapped else side.pages
        if left.shows(first, way.turn_deg, way.mirrored) and right.shows(
            second, way.turn_deg, way.mirrored
        ):
            return way
    return None


def _name_duplex(
    evidence: Evidence,
    sides: list[PrintedSide],
    wrong: dict[PrintedSide, _Way],
    findings: list[Finding],
) -> set[PrintedSide]:
    """Name a fault that all backs share. Backs with no ink on either page say nothing."""
    backs = [s for s in sides if s.side is Side.BACK]
    faulty = [s for s in backs if s in wrong and wrong[s].name == "turned"]
    fronts = [s for s in wrong if s.side is Side.FRONT]
    right = [s for s in backs if s not in wrong and _has_ink(evidence, s)]
    if fronts or right or not faulty or (len(faulty) < 2 and evidence.folding.sheets > 1):
        return set()
    other = _OTHER_EDGE[evidence.folding.turning]
    findings.append(
        block(
            "other-duplex-edge",
            "all backs",
            f"Printed for the other duplex edge: every back is turned by 180°, as if the sheets "
            f"turned about their {other} edge.",
            f"Set the printer to turn on the {other} edge, or make the print file for the "
            f"{'short' if other == 'long' else 'long'} edge.",
        )
    )
    return set(faulty)


def _has_ink(evidence: Evidence, side: PrintedSide) -> bool:
    views = (evidence.views[n] for n in side.pages)
    return any(m.turn_deg is not None for v in views for m in v.matches)


def _name_side(side: PrintedSide, way: _Way) -> Finding:
    left, right = side.pages
    rule, message = {
        "turned": ("side-turned", f"{side.label} is turned by 180°."),
        "exchanged": (
            "halves-exchanged",
            f"on {side.label} the left and right pages ({left} and {right}) are exchanged.",
        ),
        "upside-down": (
            "pages-upside-down",
            f"on {side.label} pages {left} and {right} each stand on their heads.",
        ),
        "mirrored": ("side-mirrored", f"{side.label} is mirrored."),
    }[way.name]
    return block(rule, side.sheet.place.label, capital(message), "Make the print file again.")
