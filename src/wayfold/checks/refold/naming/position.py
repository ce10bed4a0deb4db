"""Faults of place: creep, scale, skew and shift, each told for all pages it moves."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from wayfold.base.findings import Finding
from wayfold.base.geometry import Point
from wayfold.checks.refold.fitting import Fit
from wayfold.checks.refold.naming.evidence import (
    Evidence,
    Naming,
    block,
    capital,
    list_sides,
    name_pages,
)
from wayfold.checks.refold.paper import Face
from wayfold.checks.refold.views import Sight

SCALE_LEAST = 0.0012
"""Wrong scales smaller than this cannot be told from the measuring."""

SKEW_LEAST_DEG = 0.06

PRINT_100 = "Print at 100 %, with no fitting to the page and not borderless."


@dataclass(frozen=True, slots=True)
class Misplaced:
    """A right page that lies off its place."""

    number: int
    face: Face
    fit: Fit
    offset: float
    middle: tuple[float, float]
    """Displacement (mm) of the page's middle, right and down."""


def list_measured(evidence: Evidence) -> tuple[Misplaced, ...]:
    """All pages that could be measured."""
    trim = evidence.folding.trim
    measured = []
    for sheet in evidence.sheets:
        for slot in (*sheet.front, *sheet.back):
            view = evidence.views[slot.number]
            if view.sight is Sight.RIGHT and view.fit is not None and view.offset is not None:
                # A fit without slopes tells the same displacement everywhere.
                middle = view.fit.at(trim.width / 2, trim.height / 2)
                measured.append(Misplaced(slot.number, slot.face, view.fit, view.offset, middle))
    return tuple(sorted(measured, key=lambda m: m.number))


def name_scale(evidence: Evidence) -> Naming:
    """Name pages that are printed larger or smaller than they should be, or askew."""
    measured = list_measured(evidence)
    off = [m for m in measured if m.offset > evidence.tolerance]
    scaled = [m for m in off if _is_scaled(m.fit, evidence.tolerance)]
    skewed = [m for m in off if abs(m.fit.turn_deg) > SKEW_LEAST_DEG and m not in scaled]
    findings: list[Finding] = []
    tellable = [m for m in measured if m.fit.span_x or m.fit.span_y]
    if scaled and len(scaled) >= 0.6 * len(tellable):
        across = _median([m.fit.scale_x for m in scaled if m.fit.span_x])
        down = _median([m.fit.scale_y for m in scaled if m.fit.span_y])
        findings.append(block("scale", "print file", f"The {_say_scale(across, down)}.", PRINT_100))
        # What a page too plain to tell its scale lies off then has the same cause.
        scaled += [m for m in off if m not in scaled and not (m.fit.span_x and m.fit.span_y)]
    else:
        for m in scaled:
            fit = m.fit
            said = _say_scale(
                fit.scale_x if fit.span_x else None, fit.scale_y if fit.span_y else None
            )
            findings.append(
                block("scale", f"page {m.number}", f"Page {m.number}: the {said}.", PRINT_100)
            )
    for m in skewed:
        way = "clockwise" if m.fit.turn_deg > 0 else "anticlockwise"
        findings.append(
            block(
                "askew",
                f"page {m.number}",
                f"Page {m.number} is askew by {abs(m.fit.turn_deg):.2f}° {way}.",
                "Make the print file again.",
            )
        )
    return Naming(tuple(findings), frozenset(m.number for m in (*scaled, *skewed)))


def _is_scaled(fit: Fit, tolerance: float) -> bool:
    return any(
        abs(slope) > max(SCALE_LEAST, tolerance / span) if span else False
        for slope, span in ((fit.xx, fit.span_x), (fit.yy, fit.span_y))
    )


def _say_scale(across: float | None, down: float | None) -> str:
    if across is None or down is None or abs(across - down) < SCALE_LEAST:
        known = [s for s in (across, down) if s is not None]
        return f"scale is {_percent(sum(known) / len(known))}"
    return f"scale is {_percent(across)} across and {_percent(down)} down"


def _percent(scale: float) -> str:
    return f"{round(100 * scale, 1):g} %"


def _median(values: list[float]) -> float | None:
    return float(np.median(values)) if values else None


def name_creep(evidence: Evidence, explained: frozenset[int]) -> Naming:
    """Name a displacement towards the fore edge that grows from sheet to sheet as creep does.

    With e the creep of a sheet, pages that lie out by 2e were moved the wrong way, by e not at
    all; other shares mean another paper or coefficient.
    """
    by_gathering: dict[int, list[Misplaced]] = {}
    for m in list_measured(evidence):
        if m.number not in explained:
            by_gathering.setdefault(m.face.place.gathering, []).append(m)
    named: dict[str, list[int]] = {}
    settled: set[int] = set()
    for gathering, pages in by_gathering.items():
        found = _fit_creep(pages, evidence.tolerance)
        if found is not None:
            share, start, pages_told = found
            words = _say_creep(share, start, pages, evidence)
            if words:
                named.setdefault(words, []).append(gathering)
                settled |= pages_told
    findings = tuple(
        block("creep", _gatherings(numbers), f"{words} ({_gatherings(numbers)}).", _creep_remedy)
        for words, numbers in named.items()
    )
    return Naming(findings, frozenset(settled))


_creep_remedy = (
    "Check caliper, coefficient and whether the fore edge is trimmed, and make the print file "
    "again."
)


def _fit_creep(pages: list[Misplaced], tolerance: float) -> tuple[float, float, set[int]] | None:
    creep = np.array([m.face.creep for m in pages])
    out = np.array([m.middle[0] if m.face.recto else -m.middle[0] for m in pages])
    if np.ptp(creep) < 0.05 or np.abs(out).max() <= tolerance:
        return None
    share, start = (float(v) for v in np.polyfit(creep, out, 1))
    rest = np.abs(out - share * creep - start)
    if rest.max() > max(0.06, 0.2 * np.abs(out).max()) or abs(share) * np.ptp(creep) < 0.08:
        return None
    return share, start, {m.number for m in pages if abs(m.middle[1]) <= tolerance}


def _say_creep(share: float, start: float, pages: list[Misplaced], evidence: Evidence) -> str:
    deepest = max(m.face.creep for m in pages)
    most = abs(share) * deepest
    if abs(start + deepest) < 0.25 * deepest and abs(share - 2) < 0.3:
        return "Creep is counted from the innermost sheet instead of the outermost"
    if abs(start) > max(0.08, 0.3 * most):
        return ""
    if not evidence.folding.trim_fore_edge:
        if abs(share + 1) < 0.3:
            return "Creep is compensated although the fore edges stay untrimmed"
        way = "out" if share > 0 else "in"
        return f"Inner sheets are moved {way} by up to {most:.2f} mm though edges stay untrimmed"
    if abs(share - 2) < 0.3:
        return f"Creep has the wrong sign: inner pages lie up to {most:.2f} mm too far out"
    if abs(share - 1) < 0.2:
        return f"Creep is not compensated: inner pages lie up to {most:.2f} mm too far out"
    done = round(100 * (1 - share))
    return f"Creep is compensated by {done} % of what this paper and folding need"


def _gatherings(numbers: list[int]) -> str:
    words = [str(n) for n in numbers]
    if len(words) == 1:
        return f"gathering {words[0]}"
    return f"gatherings {', '.join(words[:-1])} and {words[-1]}"


def name_shifts(evidence: Evidence, explained: frozenset[int]) -> Naming:
    """Name what remains: single pages, or whole sides, that lie too far to one way."""
    off = {
        m.number: m
        for m in list_measured(evidence)
        if m.number not in explained and m.offset > evidence.tolerance
    }
    findings: list[Finding] = []
    told: set[int] = set()
    sides = []
    for side in list_sides(evidence):
        pair = [off[n] for n in side.pages if n in off]
        if len(pair) == 2 and _apart(_on_side(pair[0]), _on_side(pair[1])) < 0.06:
            sides.append((side.label, side.pages, _on_side(pair[0])))
    whole = 2 * len(evidence.sheets)
    if len(sides) == whole and whole > 1 and all(_apart(s[2], sides[0][2]) < 0.08 for s in sides):
        told.update(off)
        said = _say_shift(*sides[0][2])
        findings.append(
            block("shift", "print file", f"On every side all lies {said}.", _shift_remedy)
        )
    else:
        for label, pages, shift in sides:
            told.update(pages)
            message = f"{capital(label)} ({name_pages(pages)}) lies {_say_shift(*shift)}."
            findings.append(block("shift", label, message, _shift_remedy))
    findings += [_name_shift(m) for n, m in off.items() if n not in told]
    return Naming(tuple(findings), frozenset(off))


_shift_remedy = "Make the print file again; if the printer shifts it, centre it in the driver."


def _name_shift(m: Misplaced) -> Finding:
    where = f"page {m.number}"
    if math.hypot(*m.middle) < 0.6 * m.offset:
        message = f"Parts of page {m.number} lie up to {m.offset:.2f} mm off their place."
    else:
        message = f"Page {m.number} lies {_say_shift(*m.middle)}."
    return block("shift", where, message, _shift_remedy)


def _on_side(m: Misplaced) -> tuple[float, float]:
    zero = m.face.to_side.apply(Point(0, 0))
    moved = m.face.to_side.apply(Point(*m.middle))
    return moved.x - zero.x, moved.y - zero.y


def _apart(one: tuple[float, float], other: tuple[float, float]) -> float:
    return math.dist(one, other)


def _say_shift(dx: float, dy: float) -> str:
    """Say "0.50 mm too far right"."""
    parts = []
    for value, more, less in ((dx, "right", "left"), (dy, "down", "up")):
        if abs(value) >= 0.3 * max(abs(dx), abs(dy)):
            parts.append(f"{abs(value):.2f} mm too far {more if value > 0 else less}")
    return " and ".join(parts)
