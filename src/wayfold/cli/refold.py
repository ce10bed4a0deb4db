"""``wayfold refold``: the proof that the print file folds into the right book."""

from __future__ import annotations

from pathlib import Path

import click


@click.command("refold")
@click.argument("book", type=click.Path(path_type=Path, file_okay=False), default=".")
@click.option("--json", "as_json", is_flag=True, help="Report as JSON.")
def command(book: Path, as_json: bool) -> int:
    """Cut, turn, fold, nest and trim the printed sheets of BOOK, and compare with its pages."""
    from wayfold.app.refold import refold_folder
    from wayfold.cli.progress import TerminalProgress
    from wayfold.cli.show import show_findings, show_json, show_refold

    report = refold_folder(book, TerminalProgress())
    if as_json:
        show_json(report.to_json())
    else:
        show_refold(report)
        show_findings(report.findings)
    return 0 if report.ok else 1
