"""``wayfold register``: how the printer sets backs against fronts, and how that is made good."""

from __future__ import annotations

from pathlib import Path

import click


@click.command("register")
@click.argument("book", type=click.Path(path_type=Path, file_okay=False))
@click.option(
    "--mark",
    "marks",
    type=(str, float, float),
    multiple=True,
    metavar="NAME RIGHT DOWN",
    help="How far the back's cross lies right of and below 0 at a mark (mm): --mark A 0.4 -0.2",
)
@click.option("--across", type=float, metavar="MM", help="The length measured across.")
@click.option("--along", type=float, metavar="MM", help="The length measured along.")
@click.option(
    "--picture",
    type=click.Path(path_type=Path, dir_okay=False),
    help="A picture of the sheet held to the light, cut to its edges: it is measured.",
)
@click.option("--json", "as_json", is_flag=True, help="Report as JSON.")
def command(
    book: Path,
    marks: tuple[tuple[str, float, float], ...],
    across: float | None,
    along: float | None,
    picture: Path | None,
    as_json: bool,
) -> None:
    """Make the registration sheet of BOOK's printer, or take in what was read off it.

    Without readings, out/registration.pdf is made: print both its sides as the book's sheets are
    printed, and follow the words on it. With them, the print files put the backs where the fronts
    are from the next make on.
    """
    from wayfold.app.registering import (
        doubt_readings,
        keep_readings,
        make_registration_sheet,
        read_picture,
    )
    from wayfold.base.geometry import Point
    from wayfold.cli.progress import TerminalProgress
    from wayfold.cli.show import show_json

    shown: Path | None = None
    if picture is not None:
        shown = read_picture(book, picture).shown
    if not marks and across is None and along is None and picture is None:
        made = make_registration_sheet(book, TerminalProgress())
        if as_json:
            show_json({"made": str(made)})
        else:
            click.echo(f"Made: {made}. Print both sides, and follow the words on it.")
        return
    offsets = {name.upper(): Point(right, down) for name, right, down in marks}
    kept = keep_readings(book, offsets, across=across, along=along)
    named = dict(zip("ABCD", kept.offsets, strict=True))
    if as_json:
        show_json(
            {
                "offsets_mm": {name: [p.x, p.y] for name, p in named.items()},
                "across_mm": kept.across,
                "along_mm": kept.along,
                "shown": str(shown) if shown else None,
                "doubt": doubt_readings(book),
            }
        )
        return
    for name, p in named.items():
        click.echo(f"{name}: the back lies {p.x:+.2f} mm to the right, {p.y:+.2f} mm down.")
    doubt = doubt_readings(book)
    if doubt:
        click.echo(f"  look at: {doubt}")
    if shown:
        click.echo(f"Look whether the crosses sit on the discs: {shown}")
    click.echo(f"From the next make on this is made good: wayfold make {book}")
