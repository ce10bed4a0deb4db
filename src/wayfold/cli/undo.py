"""``wayfold undo``: take back the last change."""

from __future__ import annotations

from pathlib import Path

import click


@click.command("undo")
@click.argument("book", type=click.Path(path_type=Path, file_okay=False), default=".")
def command(book: Path) -> None:
    """Take back the last change of BOOK, also one made by hand in its files."""
    from wayfold.app.history import tell_turn, undo_change

    click.echo(tell_turn(undo_change(book)))
