"""``wayfold clocks``: what each camera's clock was."""

from __future__ import annotations

from pathlib import Path

import click


@click.command("clocks")
@click.argument("book", type=click.Path(path_type=Path, file_okay=False), default=".")
@click.option("--json", "as_json", is_flag=True, help="Report as JSON.")
def command(book: Path, as_json: bool) -> None:
    r"""Say what the clock of each camera in BOOK was, with all the evidence for and against it.

    Where it is wrong or not known, one line in trip.toml says it:

    \b
      [clocks]
      "Nikon D750 6021" = "+02:00, 3m20s fast"
    """
    from wayfold.app.clocks import describe_clocks, read_book_clocks, tell_clocks
    from wayfold.cli.progress import TerminalProgress
    from wayfold.cli.show import show_json

    readings = read_book_clocks(book, TerminalProgress())
    if as_json:
        show_json(describe_clocks(readings))
        return
    for line in tell_clocks(readings):
        click.echo(line)
