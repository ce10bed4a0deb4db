"""Faults of the pile: sheets missing, too many, of another size, in another order."""

from __future__ import annotations

from itertools import groupby

from wayfold.base.findings import Finding
from wayfold.checks.refold.naming.evidence import (
    Evidence,
    Naming,
    block,
    capital,
    join,
    list_sides,
    name_pages,
)
from wayfold.checks.refold.views import Sight

PRINT_AGAIN = "Make the print file again and print it from that."


def name_counts(evidence: Evidence) -> Naming:
    """Say which sheets are missing, or how many are too many."""
    findings: list[Finding] = []
    explained: set[int] = set()
    planned, sides = evidence.folding.sheets, evidence.sides
    if sides % 2:
        findings.append(
            block(
                "side-missing",
                "print file",
                f"The print file has {sides} sides, an odd number: the back of its last sheet is "
                "missing, or every back after one that was left out lies on the wrong sheet.",
                PRINT_AGAIN,
            )
        )
    if sides > 2 * planned:
        findings.append(
            block(
                "sheets-too-many",
                "print file",
                f"The print file has {sides} sides; {planned} sheets have {2 * planned}.",
                "Check that the gatherings in the description are those of this file.",
            )
        )
    for s, sheet in enumerate(evidence.sheets):
        absent = [n for n in sheet.numbers if evidence.views[n].sight is Sight.ABSENT]
        if evidence.stack[s] is None:
            findings.append(
                block(
                    "sheet-missing",
                    sheet.place.label,
                    f"Sheet missing: {sheet.place.label}, with {name_pages(sheet.numbers)}, is "
                    "not in the print file.",
                    PRINT_AGAIN,
                )
            )
        if absent:
            explained.update(absent)
    if evidence.pages != evidence.folding.pages:
        findings.append(
            block(
                "page-count",
                "reading file",
                f"The book has {evidence.pages} pages, but the gatherings fold to "
                f"{evidence.folding.pages}.",
                "Check the sheets of each gathering, or make both files again.",
            )
        )
    return Naming(tuple(findings), frozenset(explained))


def name_sizes(evidence: Evidence) -> Naming:
    """Say where a printed side isn't the paper's size, or the pages do not fit on it."""
    findings = []
    folding, first = evidence.folding, evidence.sizes[0]
    wide = first.width >= first.height
    paper = (
        folding.sheet
        if (folding.sheet.width >= folding.sheet.height) == wide
        else (folding.sheet.turned)
    )
    for number, size in enumerate(evidence.sizes, start=1):
        if abs(size.width - paper.width) <= 0.5 and abs(size.height - paper.height) <= 0.5:
            continue
        findings.append(
            block(
                "sheet-size",
                f"side {number} of the print file",
                f"Side {number} is {size.width:.1f} x {size.height:.1f} mm; the paper is "
                f"{paper.width:.1f} x {paper.height:.1f} mm.",
                "Describe the paper that is printed on, or make the print file for it.",
            )
        )
        break
    if 2 * folding.trim.width > first.width + 0.01 or folding.trim.height > first.height + 0.01:
        findings.append(
            block(
                "does-not-fit",
                "print file",
                f"Two pages of {folding.trim.width:.1f} x {folding.trim.height:.1f} mm side by "
                f"side do not fit on a sheet of {first.width:.1f} x {first.height:.1f} mm.",
                "Take a larger sheet or a smaller page.",
            )
        )
    return Naming(tuple(findings))


def name_order(evidence: Evidence) -> Naming:
    """Say which gatherings or sheets lie in another's place."""
    astray = [s for s in range(len(evidence.sheets)) if evidence.astray(s)]
    if not astray:
        return Naming()
    explained = frozenset(n for s in astray for n in evidence.sheets[s].numbers)
    read = [_really_at(evidence, s) for s in range(len(evidence.sheets))]
    known = [r for r in read if r is not None]
    if sorted(known) == list(range(len(evidence.sheets))):
        runs = [(g, [i for _, i in pairs]) for g, pairs in _runs(evidence, known)]
        order = [g for g, _ in runs]
        whole = len(set(order)) == len(order) == len(evidence.folding.gatherings)
        tidy = all(indices == sorted(indices) for _, indices in runs)
        if whole and tidy:
            return Naming((_gatherings_out_of_order(order),), explained)
    return Naming(tuple(_name_astray(evidence, astray)), explained)


def _really_at(evidence: Evidence, sheet: int) -> int | None:
    printed = evidence.stack[sheet]
    return None if printed is None else evidence.really.get(printed, sheet)


def _runs(evidence: Evidence, order: list[int]) -> list[tuple[int, list[tuple[int, int]]]]:
    """The gatherings as they come, each with its sheets as they come."""
    places = [evidence.sheets[s].place for s in order]
    pairs = [(p.gathering, p.index) for p in places]
    return [(g, list(group)) for g, group in groupby(pairs, key=lambda pair: pair[0])]


def _gatherings_out_of_order(order: list[int]) -> Finding:
    moved = [str(g) for i, g in enumerate(sorted(order)) if order[i] != g]
    return block(
        "gatherings-out-of-order",
        f"gatherings {join(moved)}",
        f"Gatherings {join(moved)} are out of order: the print file has them as "
        f"{', '.join(str(g) for g in order)}.",
        "Lay the gatherings in the right order before sewing, or make the print file again.",
    )


def _name_astray(evidence: Evidence, astray: list[int]) -> list[Finding]:
    findings: list[Finding] = []
    for gathering in sorted({evidence.sheets[s].place.gathering for s in astray}):
        own = [s for s, x in enumerate(evidence.sheets) if x.place.gathering == gathering]
        read = [_really_at(evidence, s) for s in own]
        if len(own) > 1 and read == own[::-1]:
            findings.append(
                block(
                    "sheets-reversed",
                    f"gathering {gathering}",
                    f"The sheets of gathering {gathering} come innermost first.",
                    "Nest them the other way round, or make the print file again.",
                )
            )
            continue
        for s in (s for s in own if s in astray):
            really = _really_at(evidence, s)
            if really is None:
                continue
            label = evidence.sheets[really].place.label
            findings.append(
                block(
                    "sheet-out-of-order",
                    evidence.sheets[s].place.label,
                    f"Where {evidence.sheets[s].place.label} should lie, {label} lies.",
                    "Put the sheets in order, or make the print file again.",
                )
            )
    return findings


def name_exchanged(evidence: Evidence) -> Naming:
    """Say which sheets have their front printed as back."""
    findings: list[Finding] = []
    explained: set[int] = set()
    by_sheet = {side.sheet.place: side.sheet for side in list_sides(evidence)}
    for sheet in by_sheet.values():
        views = [evidence.views[n] for n in sheet.numbers]
        a, b, c, d = sheet.numbers
        ways = (((c, d, a, b), 0), ((d, c, b, a), 180))
        if all(v.sight is Sight.RIGHT for v in views):
            continue
        if any(all(v.shows(p, t) for v, p in zip(views, order, strict=True)) for order, t in ways):
            explained.update(sheet.numbers)
            findings.append(
                block(
                    "front-and-back-exchanged",
                    sheet.place.label,
                    f"{capital(sheet.place.label)}: front and back are exchanged.",
                    "Fold this sheet the other way, or make the print file again.",
                )
            )
    return Naming(tuple(findings), frozenset(explained))
