"""``wayfold case``: the measures of the case."""

from __future__ import annotations

from pathlib import Path

import click


@click.command("case")
@click.argument("book", type=click.Path(path_type=Path, file_okay=False), default=".")
@click.option("--json", "as_json", is_flag=True, help="Report as JSON.")
def command(book: Path, as_json: bool) -> int:
    """Give the measures of BOOK's case: boards, cloth, spine, pocket, sewing holes."""
    from wayfold.app.case import describe_case, tell_case, view_case
    from wayfold.base.findings import blocks
    from wayfold.cli.progress import TerminalProgress
    from wayfold.cli.show import show_findings, show_json

    work = view_case(book, TerminalProgress())
    if as_json:
        show_json(describe_case(work))
    else:
        for line in tell_case(work):
            click.echo(line)
        show_findings(work.findings)
    return 1 if blocks(work.findings) else 0
