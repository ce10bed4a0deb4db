"""``wayfold demo``: a whole book from a journey that comes with Wayfold."""

from __future__ import annotations

from pathlib import Path

import click


@click.command("demo")
@click.argument("folder", type=click.Path(path_type=Path, file_okay=False), default="demo-book")
@click.option("--painted", is_flag=True, help="Fetch no photographs; paint all pictures.")
@click.option("--style", default="garden", help="How a new book looks; wayfold styles shows all.")
@click.option("--json", "as_json", is_flag=True, help="Report as JSON.")
def command(folder: Path, painted: bool, style: str, as_json: bool) -> int:
    """Make a book in FOLDER (demo-book) from an invented journey, and prove that it folds."""
    from wayfold.app.make import make_book
    from wayfold.app.refold import refold_folder
    from wayfold.base.counts import count_of
    from wayfold.cli.progress import TerminalProgress
    from wayfold.cli.show import show_findings, show_json
    from wayfold.demo.book import write_demo_book

    progress = TerminalProgress()
    demo = write_demo_book(folder, progress, paint_only=painted, style=style)
    made = make_book(folder, progress)
    proof = refold_folder(folder, progress)
    if as_json:
        show_json(
            {"notices": list(demo.notices), "make": made.to_json(), "refold": proof.to_json()}
        )
        return 0 if proof.ok else 1
    for notice in demo.notices:
        click.echo(notice)
    click.echo(f"“{demo.title}”, {count_of(made.page_count, 'page')}, lies in {folder}/out.")
    show_findings((*made.findings, *proof.findings))
    verdict = "folds into the book" if proof.ok else "does NOT fold into the book"
    click.echo(f"The print file {verdict}; largest offset {proof.largest_offset:.3f} mm.")
    click.echo(f"Turn its pages with: wayfold desk {folder}")
    return 0 if proof.ok else 1
