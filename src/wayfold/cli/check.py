"""``wayfold check``: what would disappoint on paper."""

from __future__ import annotations

from pathlib import Path

import click


@click.command("check")
@click.argument("book", type=click.Path(path_type=Path, file_okay=False), default=".")
@click.option("--mend", is_flag=True, help="Mend first what is safe to mend.")
@click.option("--json", "as_json", is_flag=True, help="Report as JSON.")
def command(book: Path, as_json: bool, mend: bool) -> int:
    """Check BOOK without making its print files.

    Safe is what only writes a passage of yours in the book's own form; without --mend it is named
    and nothing is changed. "wayfold undo" takes back all that was mended.
    """
    from wayfold.app.check import check_folder, mend_folder
    from wayfold.app.reports import describe_checks
    from wayfold.base.findings import blocks
    from wayfold.cli.progress import TerminalProgress
    from wayfold.cli.show import count_findings, show_findings, show_json, show_mended

    mended = mend_folder(book, TerminalProgress()) if mend else ()
    findings = check_folder(book, TerminalProgress())
    if as_json:
        show_json(describe_checks(findings, mended))
    else:
        if mend:
            show_mended(mended)
        show_findings(findings)
        verdict = "Not fit for print yet." if blocks(findings) else "Fit for print."
        click.echo(f"{count_findings(findings)}. {verdict}")
    return 1 if blocks(findings) else 0
