"""How results look in the terminal."""

from __future__ import annotations

import json
from collections.abc import Iterable
from typing import TYPE_CHECKING, Any

import click

from wayfold.base.findings import Finding, Severity

if TYPE_CHECKING:
    from wayfold.app.refold import RefoldReport

MARKS = {Severity.BLOCK: "must be mended", Severity.WARN: "look at", Severity.NOTE: "note"}
ORDER = (Severity.BLOCK, Severity.WARN, Severity.NOTE)


def show_json(report: dict[str, Any]) -> None:
    """Print a report as JSON."""
    click.echo(json.dumps(report, indent=2, ensure_ascii=False))


def show_findings(findings: Iterable[Finding]) -> None:
    """Print findings, the worst first."""
    for finding in sorted(findings, key=lambda f: ORDER.index(f.severity)):
        click.echo(f"  {MARKS[finding.severity]}: {finding.where}: {finding.message}")
        if finding.remedy:
            click.echo(f"      {finding.remedy}")


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
