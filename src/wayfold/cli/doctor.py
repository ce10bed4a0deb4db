"""``wayfold doctor``: what works on this machine."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from wayfold.app.doctor.tried import Report


@click.command("doctor")
@click.argument("book", type=click.Path(path_type=Path, file_okay=False), required=False)
@click.option("--json", "as_json", is_flag=True, help="Report as JSON.")
def command(book: Path | None, as_json: bool) -> int:
    """Try every part of Wayfold on this machine, and BOOK if it is named. Nothing is changed."""
    from wayfold.app.doctor.examine import examine
    from wayfold.cli.main import DONE, PERSON_CAN_MEND
    from wayfold.cli.show import show_json

    report = examine(book)
    if as_json:
        show_json(report.to_json())
    else:
        _show(report)
    return DONE if report.ok else PERSON_CAN_MEND


def _show(report: Report) -> None:
    from wayfold.base.counts import count_of
    from wayfold.cli.show import find_width, show_line

    width = find_width()
    group = ""
    for one in report.tried:
        if one.group != group:
            group = one.group
            click.echo(group)
        show_line(f"{one.standing.value:<15}{one.name}: {one.what}", "  ", " " * 17, width)
        if one.detail:
            show_line(one.detail, " " * 17, " " * 17, width)
        if one.remedy:
            show_line(one.remedy, " " * 17, " " * 17, width)
    if report.ok:
        click.echo("All that Wayfold needs works here.")
    else:
        failing = count_of(len(report.failing), "thing does", "things do")
        click.echo(f"{failing} not work: {', '.join(one.name for one in report.failing)}.")
