"""``wayfold redo``: do again what was undone."""

from __future__ import annotations

from pathlib import Path

import click


@click.command("redo")
@click.argument("book", type=click.Path(path_type=Path, file_okay=False), default=".")
def command(book: Path) -> None:
    """Do again what was undone last in BOOK."""
    from wayfold.app.history import redo_change, tell_turn

    click.echo(tell_turn(redo_change(book)))
