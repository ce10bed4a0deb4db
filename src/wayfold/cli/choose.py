"""``wayfold choose``: which photographs the book takes, and why."""

from __future__ import annotations

from pathlib import Path

import click


@click.command("choose")
@click.argument("book", type=click.Path(path_type=Path, file_okay=False), default=".")
@click.option("--json", "as_json", is_flag=True, help="Report as JSON.")
def command(book: Path, as_json: bool) -> None:
    r"""Say which photographs BOOK takes and leaves, day by day, with a reason for each.

    Your own word always wins, by the picture's id in photos.toml:

    \b
      [photo.3f2a]
      pick = "take"
    """
    from wayfold.app.choosing import choose_photos, describe_choosing, tell_choosing
    from wayfold.cli.progress import TerminalProgress
    from wayfold.cli.show import show_json

    choosing = choose_photos(book, TerminalProgress())
    if as_json:
        show_json(describe_choosing(choosing))
        return
    for line in tell_choosing(choosing):
        click.echo(line)
