"""Faults of what a right page shows: parts lost, marks within the trim, bare bleed."""

from __future__ import annotations

from wayfold.base.findings import Finding, Severity
from wayfold.checks.refold.content import ContentFault, FaultKind
from wayfold.checks.refold.naming.evidence import Evidence, Naming, block, join
from wayfold.checks.refold.views import Sight

MARKS_AREA = 60.0
"""Foreign ink at the edges up to this area (mm2) is taken for marks."""


def name_contents(evidence: Evidence, explained: frozenset[int]) -> Naming:
    """Name what is lost and what is foreign on pages that are otherwise right.

    On pages of the wrong scale something always is; ``explained`` holds those.
    """
    findings: list[Finding] = []
    faulty: set[int] = set()
    for number, view in sorted(evidence.views.items()):
        if view.sight is not Sight.RIGHT or number in explained:
            continue
        for fault in view.faults:
            findings.append(_name(number, fault))
            if fault.kind is not FaultKind.BLEED:
                faulty.add(number)
    return Naming(tuple(findings), frozenset(faulty))


def _name(number: int, fault: ContentFault) -> Finding:
    page = f"page {number}"
    at = f"at the {join(fault.edges)}" if fault.edges else "within the page"
    if fault.kind is FaultKind.BLEED:
        return Finding(
            "refold.no-bleed",
            Severity.WARN,
            page,
            f"Page {number} has no bleed {at}: ink stops at the knife's line.",
            "Let pictures that run off the page reach over the trim.",
        )
    size = f"{fault.area:.0f} mm²" if fault.area >= 1 else "under 1 mm²"
    if fault.kind is FaultKind.LOST:
        return block(
            "lost",
            page,
            f"Part of page {number} is missing {at} ({size}).",
            "Make the print file again; check how far pages are clipped.",
        )
    if fault.edges and fault.area <= MARKS_AREA:
        return block(
            "marks",
            page,
            f"Marks or other ink lie within the trim of page {number}, {at} ({size}).",
            "Keep marks outside the trim.",
        )
    return block(
        "foreign-ink",
        page,
        f"Page {number} shows ink that does not belong to it, {at} ({size}).",
        "Make the print file again.",
    )
