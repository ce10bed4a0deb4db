"""``wayfold copies``: other versions of the book's files, and the choice between them."""

from __future__ import annotations

from pathlib import Path

import click


@click.command("copies")
@click.argument("book", type=click.Path(path_type=Path, file_okay=False), default=".")
@click.option("--take", type=click.IntRange(min=1), help="Take the other version of this number.")
@click.option("--put-away", type=click.IntRange(min=1), help="Stay with the book's own version.")
@click.option("--json", "as_json", is_flag=True, help="Report as JSON.")
def command(book: Path, take: int | None, put_away: int | None, as_json: bool) -> None:
    """List other versions of BOOK's files, as two machines make them that change one file.

    What is not chosen stays in history.
    """
    from wayfold.app.tell_copies import choose_by_number, describe_copies, open_copies, tell_copies
    from wayfold.cli.show import show_json

    if take is not None and put_away is not None:
        raise click.UsageError("Choose one at a time: --take or --put-away.")
    if take is not None:
        click.echo(choose_by_number(book, take, take=True))
    elif put_away is not None:
        click.echo(choose_by_number(book, put_away, take=False))
    elif as_json:
        show_json(describe_copies(open_copies(book)))
    else:
        for line in tell_copies(open_copies(book)):
            click.echo(line)
