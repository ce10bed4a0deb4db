"""``wayfold printed``: which sheets lie printed, and which must be printed again."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

if TYPE_CHECKING:
    from wayfold.app.ledger_compare import LedgerView


@click.command("printed")
@click.argument("book", type=click.Path(path_type=Path, file_okay=False))
@click.argument("sheets", nargs=-1)
@click.option("--free", is_flag=True, help="Let these change again: they will be printed anew.")
@click.option("--json", "as_json", is_flag=True, help="Report as JSON.")
def command(book: Path, sheets: tuple[str, ...], free: bool, as_json: bool) -> None:
    """Note that SHEETS of BOOK lie printed, and tell which must be printed again.

    SHEETS are gatherings (2), sheets (2.1 is the outermost of gathering 2), translucent sheets
    (i3), "all", or "again" for those that had to be printed again. Without any, tell how all stand.
    """
    from wayfold.app.ledger import mark_sheets, view_ledger
    from wayfold.cli.show import show_json

    view = mark_sheets(book, sheets, printed=not free) if sheets else view_ledger(book)
    if as_json:
        show_json(_describe(view))
    else:
        _show(view)


def _describe(view: LedgerView) -> dict[str, Any]:
    import dataclasses

    return {
        "sheets": [dataclasses.asdict(sheet) for sheet in view.sheets],
        "outgrown": list(view.outgrown),
        "saved": dataclasses.asdict(view.saved),
    }


def _show(view: LedgerView) -> None:
    from wayfold.app.ledger import REPRINTS
    from wayfold.app.ledger_compare import SheetState
    from wayfold.base.counts import count_of

    for state in (SheetState.PRINTED, SheetState.UNPRINTED):
        labels = [sheet.label for sheet in view.sheets if sheet.state is state]
        click.echo(f"{state.value.capitalize()}: {len(labels)} of {len(view.sheets)} sheets.")
    for sheet in view.sheets:
        for words in sheet.ignored:
            click.echo(f"  passed over: {sheet.label}, {words}")
    if view.again:
        click.echo("To be printed again, in this order:")
        for sheet in view.again:
            click.echo(f"  {sheet.label}: {', '.join(sheet.reasons)}")
        files = dict.fromkeys(REPRINTS[sheet.file] for sheet in view.again)
        click.echo(f"They are in out/{' and out/'.join(files)}.")
        saved = view.saved
        click.echo(
            f"That saves {count_of(saved.sheets, 'sheet')} and about {saved.ink_ml:.0f} ml of ink."
        )
    for label in view.outgrown:
        click.echo(f"  no longer in the book: {label}")
