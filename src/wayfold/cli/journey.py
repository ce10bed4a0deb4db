"""``wayfold journey``: where it went, and how that is known."""

from __future__ import annotations

from pathlib import Path

import click


@click.command("journey")
@click.argument("book", type=click.Path(path_type=Path, file_okay=False), default=".")
@click.option(
    "--add",
    "files",
    multiple=True,
    type=click.Path(path_type=Path, dir_okay=False),
    help="A calendar (.ics) or track (.gpx) to copy into the book first. May be given again.",
)
@click.option("--json", "as_json", is_flag=True, help="Report as JSON.")
def command(book: Path, files: tuple[Path, ...], as_json: bool) -> None:
    r"""Say where the journey of BOOK went, by photographs, calendars, tracks and trip.toml.

    What is wrong or not known, a few lines in trip.toml say:

    \b
      [[leg]]
      from = "Bilbao"
      to = "Barcelona"
      mode = "train"
    """
    from wayfold.app.tell_journey import (
        describe_journey,
        import_files,
        read_book_journey,
        tell_journey,
    )
    from wayfold.cli.progress import TerminalProgress
    from wayfold.cli.show import show_findings, show_json

    copied = import_files(book, files)
    journey, unit, findings = read_book_journey(book, TerminalProgress())
    if as_json:
        show_json(describe_journey(journey, findings))
        return
    for line in (*copied, *tell_journey(journey, unit)):
        click.echo(line)
    show_findings(findings)
