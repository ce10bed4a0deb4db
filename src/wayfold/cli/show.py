"""How results look in the terminal."""

from __future__ import annotations

import json
from collections.abc import Iterable
from typing import Any

import click

from wayfold.base.findings import Finding, Severity

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


def count_of(number: int, one: str, many: str = "") -> str:
    """Give "1 page", "3 pages"."""
    return f"{number} {one if number == 1 else many or one + 's'}"
