"""Faults of single pages: swapped, turned, blank, strange; and a file of another book."""

from __future__ import annotations

from wayfold.base.findings import Finding
from wayfold.checks.refold.naming.evidence import (
    Evidence,
    Naming,
    block,
    is_wrong,
    name_pages,
)
from wayfold.checks.refold.views import Match, Sight, View

AGAIN = "Make the print file again."

MOST = 0.6
"""From this share of strange pages on, the file is of another book."""


def name_single_pages(evidence: Evidence, explained: frozenset[int]) -> Naming:
    """Name what is wrong with the pages that nothing else explains."""
    wrong = {n: v for n, v in evidence.views.items() if is_wrong(v) and n not in explained}
    findings: list[Finding] = []
    strange = [n for n, v in wrong.items() if v.sight is Sight.UNKNOWN]
    inked = sum(v.sight is not Sight.BLANK for v in evidence.views.values())
    if len(strange) >= max(2, MOST * inked):
        findings.append(
            block(
                "another-book",
                "print file",
                f"Pages of another book: {len(strange)} of {inked} pages are none of this book's.",
                "Name the print file and the reading file of the same book.",
            )
        )
    else:
        findings += [_name_strange(n) for n in strange]
    told = set(strange)
    for number, view in sorted(wrong.items()):
        if number not in told:
            finding, pages = _name_one(number, view, wrong)
            findings.append(finding)
            told |= pages
    return Naming(tuple(findings), frozenset(wrong))


def _name_strange(number: int) -> Finding:
    return block(
        "strange-page",
        f"page {number}",
        f"What is printed in place of page {number} is no page of this book, or too little of "
        "one to tell.",
        AGAIN,
    )


def _name_one(number: int, view: View, wrong: dict[int, View]) -> tuple[Finding, set[int]]:
    if view.sight is Sight.BLANK:
        return (
            block("blank-page", f"page {number}", f"Blank in place of page {number}.", AGAIN),
            {number},
        )
    for match in view.matches:
        partner = wrong.get(match.page)
        if match.page == number or partner is None or not _upright(match):
            continue
        if partner.shows(number):
            return _swapped(number, match.page), {number, match.page}
    match = view.matches[0]
    if match.page == number:
        return _name_stance(number, match), {number}
    where = f"page {number}"
    how = _stance(match)
    return (
        block(
            "wrong-page",
            where,
            f"Page {match.page}{how} is printed in place of page {number}.",
            AGAIN,
        ),
        {number},
    )


def _upright(match: Match) -> bool:
    return match.turn_deg in (None, 0) and not match.mirrored


def _swapped(one: int, other: int) -> Finding:
    both = name_pages((one, other))
    return block("pages-swapped", both, f"{both.capitalize()} are swapped.", AGAIN)


def _name_stance(number: int, match: Match) -> Finding:
    rule = "page-mirrored" if match.mirrored else "page-turned"
    return block(rule, f"page {number}", f"Page {number} is{_stance(match)}.", AGAIN)


def _stance(match: Match) -> str:
    parts = []
    if match.mirrored:
        parts.append("mirrored")
    if match.turn_deg:
        parts.append(f"turned by {match.turn_deg}°")
    return " " + " and ".join(parts) if parts else ""
