"""``wayfold make``: the print files."""

from __future__ import annotations

from pathlib import Path

import click


@click.command("make")
@click.argument("book", type=click.Path(path_type=Path, file_okay=False), default=".")
@click.option("--json", "as_json", is_flag=True, help="Report as JSON.")
def command(book: Path, as_json: bool) -> int:
    """Make the print files of BOOK (a folder; the one you stand in if not given)."""
    from wayfold.app.make import make_book
    from wayfold.base.counts import count_of
    from wayfold.base.findings import blocks
    from wayfold.cli.progress import TerminalProgress
    from wayfold.cli.show import show_findings, show_json

    report = make_book(book, TerminalProgress())
    if as_json:
        show_json(report.to_json())
    elif report.nothing_to_do:
        click.echo("Nothing has changed; the print files are up to date.")
    else:
        click.echo(
            f"{count_of(report.page_count, 'page')}; set anew: {_number(report.pages)}; "
            f"pictures made: {report.pictures}."
        )
        click.echo(f"Sheets whose ink changed: {', '.join(report.sheets) or 'none'}.")
        for sheet in report.reprint:
            click.echo(f"Print again: {sheet}.")
        show_findings(report.findings)
        click.echo("Made: " + ", ".join(report.outputs))
    return 1 if blocks(report.findings) else 0


def _number(pages: tuple[int, ...]) -> str:
    """Give page numbers as runs: "3, 7-12"."""
    runs: list[list[int]] = []
    for page in pages:
        if runs and page == runs[-1][-1] + 1:
            runs[-1].append(page)
        else:
            runs.append([page])
    return ", ".join(f"{r[0]}" if len(r) == 1 else f"{r[0]}–{r[-1]}" for r in runs) or "none"
