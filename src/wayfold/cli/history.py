"""``wayfold history``: what was changed in a book, and when."""

from __future__ import annotations

from pathlib import Path

import click


@click.command("history")
@click.argument("book", type=click.Path(path_type=Path, file_okay=False), default=".")
@click.option("--json", "as_json", is_flag=True, help="Report as JSON.")
def command(book: Path, as_json: bool) -> None:
    """List what was changed in BOOK, the latest first."""
    from wayfold.app.history import describe_changes, list_changes, tell_changes
    from wayfold.cli.show import show_json

    entries = list_changes(book)
    if as_json:
        show_json(describe_changes(entries))
        return
    for line in tell_changes(entries):
        click.echo(line)
