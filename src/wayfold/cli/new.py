"""``wayfold new``: start a book in a folder."""

from __future__ import annotations

from pathlib import Path

import click


@click.command("new")
@click.argument("folder", type=click.Path(path_type=Path, file_okay=False))
@click.option("--title", help="The book's title; the folder's name if not given.")
@click.option(
    "--photographs",
    multiple=True,
    type=click.Path(path_type=Path, file_okay=False),
    help="A folder of pictures; may be given several times. They are never written to.",
)
@click.option("--style", help="How it looks: wayfold styles shows those there are.")
@click.option("--json", "as_json", is_flag=True, help="Report as JSON.")
def command(
    folder: Path, title: str | None, photographs: tuple[Path, ...], style: str | None, as_json: bool
) -> None:
    """Start a book in FOLDER from folders of PHOTOGRAPHS."""
    from wayfold.app.new import begin_book
    from wayfold.cli.show import show_json

    name = title or folder.resolve().name
    begin_book(folder, name, photographs, style)
    if as_json:
        show_json({"book": str(folder), "title": name})
        return
    click.echo(f"A book called “{name}” lies in {folder}.")
    click.echo("Say what it is like in book.toml, write its texts in texts/, then:")
    click.echo(f"  wayfold make {folder}")
