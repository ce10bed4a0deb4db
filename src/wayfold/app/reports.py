"""plan.json, checks.json, the itinerary: what was planned and found, for other programs."""

from __future__ import annotations

import json
from dataclasses import asdict
from pathlib import Path
from typing import Any

from wayfold.app.stages import Results
from wayfold.base.findings import Finding, Rewording, blocks
from wayfold.book.materials import Translucent
from wayfold.book.see_through import sheet_of, show_through
from wayfold.checks.refold.folding import DrawnIn, FoldedInterleaf, Folding, Turning
from wayfold.disk.placing import write_whole
from wayfold.plan.model import EndRole, Plan
from wayfold.press.bed import turns_heads
from wayfold.press.registering import Misprint, find_misprint
from wayfold.trip.journey.rows import dump_rows

PLAN_SCHEMA = "wayfold.plan/1"
CHECKS_SCHEMA = "wayfold.checks/1"
NEARLY = 11.0
"""Rendering and rounding may make what shows through a leaf so much darker (of 255)."""


def dump_findings(findings: tuple[Finding, ...]) -> bytes:
    """Give findings as JSON bytes."""
    return json.dumps([f.to_json() for f in findings]).encode()


def load_findings(data: bytes) -> tuple[Finding, ...]:
    """Read what ``dump_findings`` wrote."""
    return tuple(Finding.from_json(values) for values in json.loads(data))


def describe_checks(
    findings: tuple[Finding, ...], mended: tuple[Rewording, ...] = ()
) -> dict[str, Any]:
    """Give checks.json as plain values; ``mended`` was done before the book was checked."""
    return {
        "schema": CHECKS_SCHEMA,
        "printable": not blocks(findings),
        "mended": [asdict(one) for one in mended],
        "findings": [
            {**f.to_json(), "mends": [asdict(one) for one in f.rewordings]} for f in findings
        ],
    }


def write_checks_report(path: Path, findings: tuple[Finding, ...]) -> None:
    """Write checks.json."""
    _write_json(path, describe_checks(findings))


def describe_plan(results: Results) -> dict[str, Any]:
    """Give plan.json as plain values: lengths in mm, pages and gatherings counted from 1."""
    plan = results.plan
    return {
        "schema": PLAN_SCHEMA,
        "status": str(results.planned.result.status),
        "cost": results.planned.result.cost,
        "bound": results.planned.result.bound,
        **describe_flatplan(plan),
        "folding": folding_of(results).to_json(),
    }


def describe_flatplan(plan: Plan) -> dict[str, Any]:
    """Give pages, gatherings and interleaves as plain values, all counted from 1."""
    return {
        "pages": [{"number": p.number, "block": p.block, "part": p.part} for p in plan.pages],
        "gatherings": [
            {
                "number": g.number,
                "sheets": g.sheets,
                "first_page": g.first_page,
                "last_page": g.last_page,
                "centre": list(g.centre),
            }
            for g in plan.gatherings
        ],
        "interleaves": [
            {
                "gathering": interleaf.gathering,
                "depth": interleaf.depth,
                "ends": [
                    {"after_page": e.after_page, "role": e.role.value, "over": e.over}
                    for e in interleaf.ends
                ],
            }
            for interleaf in plan.interleaves
        ],
    }


def folding_of(results: Results) -> Folding:
    """Give what a person needs to know to fold the sheets: it goes into plan.json for the proof."""
    book = results.book
    misprint = Misprint()
    if book.registration is not None:
        size = results.sheets[0].size
        turned = turns_heads(size, book.printer.duplex)
        misprint = find_misprint(book.registration, size, turns_heads=turned)
    through = {
        at: mirrored
        for sheet in results.interleaf_sheets
        for at, mirrored in zip(sheet.leaves, sheet.mirrored, strict=True)
    }
    return Folding(
        trim=book.trim,
        sheet=book.paper.sheet,
        gatherings=tuple(g.sheets for g in results.plan.gatherings),
        turning=Turning(book.printer.duplex.value),
        bleed=book.bleed,
        caliper_um=book.paper.caliper_um,
        creep_coefficient=book.binding.creep_coefficient,
        trim_fore_edge=book.binding.trim_fore_edge,
        interleaves=tuple(
            FoldedInterleaf(
                interleaf.gathering,
                interleaf.depth,
                tuple(end.after_page for end in interleaf.ends),
                tuple(end.role is EndRole.STUB for end in interleaf.ends),
                tuple(through[index, end] for end in range(len(interleaf.ends))),
            )
            for index, interleaf in enumerate(results.plan.interleaves)
        ),
        interleaf_caliper_um=book.translucent.caliper_um,
        drawn_in=DrawnIn(book.printer.back_order.value),
        front_lands=misprint.front,
        back_lands=misprint.back,
        veiled_grey=_darkest_veiled(book.translucent),
    )


def _darkest_veiled(paper: Translucent) -> float:
    """A little less (0-255) than black is in the reading file under a leaf of this paper."""
    return round(255 * show_through(sheet_of(paper), 0.0) - NEARLY, 1)


def write_plan_report(path: Path, results: Results) -> None:
    """Write plan.json."""
    _write_json(path, describe_plan(results))


def write_itinerary_files(rows: Path, events: Path, results: Results) -> None:
    """Write the itinerary as CSV and iCalendar, where the book has one."""
    if results.words.itinerary is None:
        rows.unlink(missing_ok=True)
        events.unlink(missing_ok=True)
        return
    # Books without an itinerary do without the library of calendars.
    from wayfold.trip.journey.events import dump_events

    write_whole(rows, dump_rows(results.journey))
    write_whole(events, dump_events(results.journey, results.book.title))


def _write_json(path: Path, report: dict[str, Any]) -> None:
    write_whole(path, (json.dumps(report, indent=2, ensure_ascii=False) + "\n").encode())
