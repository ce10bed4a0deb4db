"""``wayfold plan``: pages on paper, why they lie there, and what else could be had."""

from __future__ import annotations

from pathlib import Path

import click

CHOICES = ("even gatherings", "balanced", "every hero centred")
"""The plans on offer, written here too so that help need not load them."""


@click.command("plan")
@click.argument("book", type=click.Path(path_type=Path, file_okay=False), default=".")
@click.option("--choose", type=click.Choice(CHOICES), help="Take another of the plans on offer.")
@click.option("--afresh", is_flag=True, help="Plan anew; only what is printed stays.")
@click.option("--why", "why_page", type=click.IntRange(1), help="Say why PAGE shows what it does.")
@click.option("--meet", "meet_page", type=click.IntRange(1), help="Meet a wish of PAGE's block.")
@click.option("--way", type=click.IntRange(1), default=1, help="In which of the ways told.")
@click.option("--json", "as_json", is_flag=True, help="Report as JSON.")
def command(
    book: Path,
    choose: str | None,
    afresh: bool,
    why_page: int | None,
    meet_page: int | None,
    way: int,
    as_json: bool,
) -> None:
    """Plan BOOK's pages on its paper, and show the flatplan."""
    from wayfold.app.plan import view_plan
    from wayfold.app.plan_meet import meet_wish
    from wayfold.app.plan_values import describe_view
    from wayfold.app.plan_words import tell_plan, tell_why
    from wayfold.cli.progress import TerminalProgress
    from wayfold.cli.show import show_findings, show_json

    if meet_page is not None and (choose or afresh or why_page):
        raise click.UsageError("--meet goes with --way and --json only.")
    progress = TerminalProgress()
    if meet_page is not None:
        view = meet_wish(book, progress, page=meet_page, number=way)
    else:
        view = view_plan(book, progress, choose=choose, afresh=afresh, why_page=why_page)
    if as_json:
        show_json(describe_view(view))
        return
    lines = tell_why(view) if view.why else tell_plan(view)
    for line in lines:
        click.echo(line)
    if not view.why:
        show_findings(view.findings)
