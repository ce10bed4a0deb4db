"""``wayfold check``: what would disappoint on paper."""

from __future__ import annotations

from pathlib import Path

import click


@click.command("check")
@click.argument("book", type=click.Path(path_type=Path, file_okay=False), default=".")
@click.option("--json", "as_json", is_flag=True, help="Report as JSON.")
def command(book: Path, as_json: bool) -> int:
    """Check BOOK without making its print files."""
    from wayfold.app.check import check_folder
    from wayfold.app.reports import describe_checks
    from wayfold.base.findings import blocks
    from wayfold.cli.progress import TerminalProgress
    from wayfold.cli.show import count_findings, show_findings, show_json

    findings = check_folder(book, TerminalProgress())
    if as_json:
        show_json(describe_checks(findings))
    else:
        show_findings(findings)
        verdict = "Not fit for print yet." if blocks(findings) else "Fit for print."
        click.echo(f"{count_findings(findings)}. {verdict}")
    return 1 if blocks(findings) else 0
