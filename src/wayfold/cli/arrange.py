"""``wayfold arrange``: other ways for a page's pictures to lie."""

from __future__ import annotations

from pathlib import Path

import click


@click.command("arrange")
@click.argument("page", type=click.IntRange(1))
@click.argument("book", type=click.Path(path_type=Path, file_okay=False), default=".")
@click.option(
    "--choose",
    "number",
    type=click.IntRange(0),
    help="Take this one of the ways shown; 0 leaves the choice to Wayfold again.",
)
@click.option("--json", "as_json", is_flag=True, help="Report as JSON.")
def command(page: int, book: Path, number: int | None, as_json: bool) -> None:
    """Show in out/ways.pdf how else the pictures of PAGE and the page facing it could lie."""
    from wayfold.app.arranging import choose_way, describe_ways, show_ways, tell_ways
    from wayfold.cli.progress import TerminalProgress
    from wayfold.cli.show import show_json

    progress = TerminalProgress()
    if number is not None:
        chosen = choose_way(book, progress, page, number)
        if as_json:
            show_json({"chosen": dict(chosen)})
        else:
            click.echo("Noted in book.toml. Make the book again to see it: wayfold make")
        return
    view = show_ways(book, progress, page)
    if as_json:
        show_json(describe_ways(view))
        return
    for line in tell_ways(view):
        click.echo(line)
    click.echo(f"Look at them in {view.file}; take one with --choose NUMBER.")
