"""``wayfold desk``: the book in the browser."""

from __future__ import annotations

from pathlib import Path

import click


@click.command("desk")
@click.argument("book", type=click.Path(path_type=Path, file_okay=False), required=False)
@click.option("--port", type=click.IntRange(1, 65535), help="A free one if not given.")
@click.option("--open/--no-open", "open_browser", default=True, help="Open the browser.")
def command(book: Path | None, port: int | None, open_browser: bool) -> None:
    """Open BOOK at the desk: a page in your browser, served on this machine only.

    Without BOOK the desk asks for one, or starts one.
    """
    from wayfold.app.shelf import Shelf
    from wayfold.desk.server import serve

    shelf = Shelf(memory=Path(click.get_app_dir("wayfold")) / "books.json")
    if book is not None:
        shelf.begin_opening(book)
    serve(shelf, port=port, open_browser=open_browser)
