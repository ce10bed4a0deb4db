"""How results look in the terminal."""

from __future__ import annotations

import json
import re
import shutil
import textwrap
from collections import Counter
from collections.abc import Iterable
from typing import TYPE_CHECKING, Any

import click

from wayfold.base.counts import count_of
from wayfold.base.findings import Finding, Rewording, Severity

if TYPE_CHECKING:
    from wayfold.app.refold import RefoldReport

MARKS = {Severity.BLOCK: "must be mended", Severity.WARN: "look at", Severity.NOTE: "note"}
ORDER = (Severity.BLOCK, Severity.WARN, Severity.NOTE)
WIDEST = 100
"""Longer lines are hard to read."""
PAGE = re.compile(r"^(?:pages?|leaf after page) (\d+)")


def show_json(report: dict[str, Any]) -> None:
    """Print a report as JSON."""
    click.echo(json.dumps(report, indent=2, ensure_ascii=False))


def show_findings(findings: Iterable[Finding]) -> None:
    """Print findings place by place: those that must be mended first, notes last, pages in order.

    Lines break at the terminal's width.
    """
    places: dict[str, list[Finding]] = {}
    for finding in findings:
        places.setdefault(finding.where, []).append(finding)
    width = find_width()
    for where, found in sorted(places.items(), key=_rank_place):
        click.echo(where)
        for finding in sorted(found, key=lambda f: ORDER.index(f.severity)):
            show_line(f"{MARKS[finding.severity]}: {finding.message}", "  ", "    ", width)
            if finding.remedy:
                show_line(finding.remedy, "    ", "    ", width)
            for one in finding.rewordings:
                show_line(f"--mend writes {_tell_rewording(one)}", "    ", "      ", width)


def show_mended(mended: tuple[Rewording, ...]) -> None:
    """Print what was mended, and how it is taken back."""
    for one in mended:
        click.echo(f"mended: {_tell_rewording(one)}")
    if mended:
        passages = count_of(len(mended), "passage")
        click.echo(f"{passages} mended; “wayfold undo” takes it back as one change.\n")
    else:
        click.echo("Nothing was found that is safe to mend.\n")


def _tell_rewording(one: Rewording) -> str:
    return f"“{one.old}” as “{one.new}”"


def count_findings(findings: Iterable[Finding]) -> str:
    """Give "1 must be mended, 3 to look at, 2 notes", or "Nothing found"."""
    counts = Counter(finding.severity for finding in findings)
    words = {
        Severity.BLOCK: f"{counts[Severity.BLOCK]} must be mended",
        Severity.WARN: f"{counts[Severity.WARN]} to look at",
        Severity.NOTE: count_of(counts[Severity.NOTE], "note"),
    }
    return ", ".join(words[s] for s in ORDER if counts[s]) or "Nothing found"


def _rank_place(place: tuple[str, list[Finding]]) -> tuple[int, int]:
    where, found = place
    page = PAGE.search(where)
    return min(ORDER.index(f.severity) for f in found), int(page[1]) if page else 0


def find_width() -> int:
    """Give how wide lines may be: as the terminal is, but never wider than reads well."""
    return min(WIDEST, shutil.get_terminal_size().columns)


def show_line(text: str, first: str, rest: str, width: int) -> None:
    """Print a text in lines of ``width``; ``first`` and ``rest`` go before them."""
    click.echo(
        textwrap.fill(
            text, width, initial_indent=first, subsequent_indent=rest,
            break_long_words=False, break_on_hyphens=False,
        )
    )  # fmt: skip


def show_refold(report: RefoldReport) -> None:
    """Print what was read on every page and on every face of a leaf, and the largest offset."""
    click.echo("page  right by   down by   what was read")
    for page in report.pages:
        dx, dy = (f"{v:+8.3f}" if v is not None else "       –" for v in (page.dx, page.dy))
        click.echo(f"{page.number:4} {dx} mm {dy} mm  {page.words}")
    if report.leaves:
        click.echo("leaf after page  face      off by   what was read")
    for leaf in report.leaves:
        off = "       –" if leaf.offset is None else f"{leaf.offset:8.3f}"
        click.echo(f"{leaf.after_page:15}  {leaf.face} {off} mm  {leaf.words}")
    verdict = "folds into the book" if report.ok else "does NOT fold into the book"
    click.echo(
        f"The print file {verdict}: {report.measured} of {len(report.pages)} pages measured, "
        f"largest offset {report.largest_offset:.3f} mm (allowed {report.tolerance} mm)."
    )
