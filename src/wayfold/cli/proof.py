"""``wayfold proof``: the pages as the printer will have them."""

from __future__ import annotations

from pathlib import Path

import click


@click.command("proof")
@click.argument("book", type=click.Path(path_type=Path, file_okay=False), default=".")
@click.option("--page", type=int, help="Only this page of the reading file.")
@click.option("--json", "as_json", is_flag=True, help="Report as JSON.")
def command(book: Path, page: int | None, as_json: bool) -> int:
    """Show BOOK's pages as the printer's colour profile has them, and what it cannot print."""
    from dataclasses import asdict

    from wayfold.app.proof import prove_book
    from wayfold.cli.progress import TerminalProgress
    from wayfold.cli.show import show_findings, show_json

    pages = prove_book(book, page, TerminalProgress())
    found = tuple(finding for proven in pages for finding in proven.findings)
    if as_json:
        listed = [asdict(proven) for proven in pages]
        show_json({"pages": listed, "findings": [f.to_json() for f in found]})
        return 0
    for proven in pages:
        ink = "" if proven.ink is None else f", ink {proven.ink:.0f} %"
        click.echo(f"{proven.shown}: {proven.lost:.1%} out of gamut{ink}")
    show_findings(found)
    return 0
