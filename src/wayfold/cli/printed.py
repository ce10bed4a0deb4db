"""``wayfold printed``: which gatherings lie printed, and so stay as they are."""

from __future__ import annotations

from pathlib import Path

import click


@click.command("printed")
@click.argument("book", type=click.Path(path_type=Path, file_okay=False))
@click.argument("gatherings", type=click.IntRange(1), nargs=-1)
@click.option("--free", is_flag=True, help="Let these change again: they will be printed anew.")
@click.option("--json", "as_json", is_flag=True, help="Report as JSON.")
def command(book: Path, gatherings: tuple[int, ...], free: bool, as_json: bool) -> None:
    """Note that GATHERINGS (their numbers) of BOOK are printed: no later plan touches them."""
    from wayfold.app.planning import mark_gatherings
    from wayfold.cli.show import show_json

    kept = mark_gatherings(book, frozenset(gatherings), printed=not free)
    if as_json:
        show_json({"printed": list(kept.printed)})
        return
    numbers = ", ".join(map(str, kept.printed)) or "none"
    click.echo(f"Printed gatherings: {numbers} of {len(kept.plan.gatherings)}.")
