"""``wayfold setup``: questions about paper, printer and thread, with what stands now as answers."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

if TYPE_CHECKING:
    from wayfold.app.setup_questions import Question


@click.command("setup")
@click.argument("book", type=click.Path(path_type=Path, file_okay=False), default=".")
@click.option(
    "--answers",
    type=click.Path(path_type=Path, dir_okay=False),
    help='A JSON file of answers by key, instead of asking: {"paper.grain": "short"}.',
)
@click.option("--anyway", is_flag=True, help="Write answers that look wrong as well.")
@click.option("--questions", is_flag=True, help="List the questions as JSON, and ask nothing.")
@click.option("--materials", is_flag=True, help="List papers, printers and threads by name.")
@click.option("--sheet", is_flag=True, help="Make out/measuring.pdf, to measure with.")
@click.option("--json", "as_json", is_flag=True, help="Report as JSON.")
def command(
    book: Path,
    answers: Path | None,
    anyway: bool,
    questions: bool,
    materials: bool,
    sheet: bool,
    as_json: bool,
) -> int:
    """Set up paper, printer and thread of BOOK by answering questions.

    An empty answer leaves all as it stands. Nothing is written before the end.
    """
    from wayfold.app import setup
    from wayfold.base.findings import blocks
    from wayfold.cli.show import show_findings, show_json

    if sheet:
        click.echo(f"Made: {setup.make_measuring_sheet(book)}")
        return 0
    if questions:
        show_json({"questions": [q.to_json() for q in setup.list_questions(book)]})
        return 0
    if materials:
        for material in setup.list_materials(book):
            own = ", your own" if material.own else ""
            click.echo(f"{material.kind} {material.name}{own}: {', '.join(material.tell())}")
        return 0
    given = _ask(setup.list_questions(book)) if answers is None else setup.read_answers(answers)
    done = setup.answer_questions(book, given, anyway=anyway)
    if as_json:
        show_json(done.to_json())
        return 0 if done.written else 1
    show_findings(done.findings)
    if not done.written and answers is None and click.confirm("Write it nevertheless?"):
        done = setup.answer_questions(book, given, anyway=True)
    if done.written:
        count = sum(len(values) for values in done.tables.values())
        click.echo(f"{count} keys are written into book.toml.")
        return 0
    click.echo("Nothing was written.")
    return 1 if blocks(done.findings) else 0


def _ask(questions: tuple[Question, ...]) -> dict[str, Any]:
    answers = {}
    for question in questions:
        if question.help:
            click.echo(f"  {question.help}")
        if question.choices:
            click.echo(f"  {', '.join(question.choices)}")
        while True:
            stands = question.default or ""
            answer = click.prompt(question.words, default=stands, show_default=bool(stands))
            if answer in (stands, ""):
                break
            if question.choices and answer not in question.choices:
                click.echo(f"  Choose one of: {', '.join(question.choices)}.")
                continue
            answers[question.key] = answer
            break
    return answers
