"""Puts the named faults and a line for every page together."""

from __future__ import annotations

import math

from wayfold.checks.refold.content import FaultKind
from wayfold.checks.refold.naming import contents, pages, position, sheets, sides
from wayfold.checks.refold.naming.evidence import Evidence
from wayfold.checks.refold.report import PageReading, RefoldReport
from wayfold.checks.refold.views import Sight, View


def judge(evidence: Evidence) -> RefoldReport:
    """Name the faults, largest cause first; what a cause explains is not told again."""
    findings = list(sheets.name_sizes(evidence).findings)
    explained: frozenset[int] = frozenset()
    for naming in (
        sheets.name_counts(evidence),
        sheets.name_order(evidence),
        sheets.name_exchanged(evidence),
    ):
        findings += naming.findings
        explained |= naming.explained
    for name in (sides.name_sides, pages.name_single_pages):
        naming = name(evidence, explained)
        findings += naming.findings
        explained |= naming.explained
    scale = position.name_scale(evidence)
    findings += scale.findings
    placed = scale.explained
    for name in (position.name_creep, position.name_shifts):
        naming = name(evidence, placed)
        findings += naming.findings
        placed |= naming.explained
    findings += contents.name_contents(evidence, scale.explained).findings
    lines = tuple(_line(evidence, evidence.views[n]) for n in sorted(evidence.views))
    return RefoldReport(evidence.folding, evidence.tolerance, lines, tuple(findings))


def _line(evidence: Evidence, view: View) -> PageReading:
    number = view.number
    dx = dy = scale_x = scale_y = None
    if view.fit is not None and view.offset is not None:
        trim = evidence.folding.trim
        dx, dy = view.fit.at(trim.width / 2, trim.height / 2)
        scale_x = view.fit.scale_x if view.fit.span_x else None
        scale_y = view.fit.scale_y if view.fit.span_y else None
    match = view.matches[0] if view.matches else None
    here = view.sight is Sight.RIGHT
    placed = view.offset is None or view.offset <= evidence.tolerance
    whole = not any(f.kind is not FaultKind.BLEED for f in view.faults)
    return PageReading(
        number,
        match.page if match is not None and view.sight in (Sight.RIGHT, Sight.OTHER) else None,
        (match.turn_deg or 0) if match is not None else 0,
        bool(match.mirrored) if match is not None else False,
        dx,
        dy,
        view.offset,
        scale_x,
        scale_y,
        here and placed and whole,
        _say(view, placed, whole),
    )


def _say(view: View, placed: bool, whole: bool) -> str:
    if view.sight is Sight.ABSENT:
        return "not in the print file"
    if view.sight is Sight.BLANK:
        return "blank"
    if view.sight is Sight.UNKNOWN:
        return "no page of this book"
    match = view.matches[0]
    if view.sight is Sight.OTHER:
        words = "the right page" if match.page == view.number else f"page {match.page}"
        words += ", mirrored" if match.mirrored else ""
        return words + (f", turned by {match.turn_deg}°" if match.turn_deg else "")
    if match.turn_deg is None:
        return "blank, as it should be"
    if not whole:
        return "the right page, with something lost or foreign on it"
    if view.offset is None or view.fit is None:
        return "the right page, too plain to measure"
    if not placed:
        return f"the right page, {view.offset:.2f} mm off its place"
    away = math.hypot(view.fit.shift_x, view.fit.shift_y)
    return f"right, within {max(view.offset, away):.2f} mm"
