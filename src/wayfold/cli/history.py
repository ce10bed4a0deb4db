"""``wayfold history``: what was changed in a book, and when."""

from __future__ import annotations

from pathlib import Path

import click


@click.command("history")
@click.argument("book", type=click.Path(path_type=Path, file_okay=False), default=".")
@click.option("--take-out", type=int, help="Write what the files of this change held.")
@click.option(
    "--into",
    type=click.Path(path_type=Path, file_okay=False),
    help="The folder for them, which may be a new one.",
)
@click.option("--json", "as_json", is_flag=True, help="Report as JSON.")
def command(book: Path, take_out: int | None, into: Path | None, as_json: bool) -> None:
    """List what was changed in BOOK, the latest first, or take out what files held then."""
    from wayfold.app.history import describe_changes, list_changes, take_files_out, tell_changes
    from wayfold.cli.show import show_json

    if (take_out is None) != (into is None):
        raise click.UsageError("Write both: --take-out NUMBER --into FOLDER.")
    if take_out is not None and into is not None:
        for name in take_files_out(book, take_out, into):
            click.echo(into / name)
        return

    entries = list_changes(book)
    if as_json:
        show_json(describe_changes(entries))
        return
    for line in tell_changes(entries):
        click.echo(line)
