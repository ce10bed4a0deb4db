"""``wayfold styles``: the styles there are, each with a spread to compare it by."""

from __future__ import annotations

from pathlib import Path

import click


@click.command("styles")
@click.argument("book", type=click.Path(path_type=Path, file_okay=False), default=".")
@click.option("--json", "as_json", is_flag=True, help="Report as JSON.")
def command(book: Path, as_json: bool) -> None:
    """List the styles there are, BOOK's own among them, and draw a spread of each.

    The spreads go into out/styles.pdf of BOOK; where no book lies, into styles.pdf there.
    """
    from wayfold.cli.progress import TerminalProgress
    from wayfold.cli.show import show_json
    from wayfold.demo.specimen import show_styles

    shown = show_styles(book, TerminalProgress())
    if as_json:
        show_json(shown.to_json())
        return
    for entry in shown.entries:
        own = " (your own)" if entry.own else ""
        click.echo(f"{entry.style.name}{own}: {entry.about}")
        click.echo(f"    {entry.style.serif}, {entry.style.sans}")
    click.echo(f"A spread of each: {shown.file}")
