"""Paper and printer at the desk: questions with what stands now, and answers weighed and kept."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from wayfold.app.session import Session
from wayfold.app.setup import (
    list_materials,
    list_questions,
    make_measuring_sheet,
    weigh_answers,
)
from wayfold.app.setup_questions import Question
from wayfold.base.errors import NotFoundError
from wayfold.base.findings import Finding, blocks
from wayfold.bench.turning import TurningStep, draw_turning_steps
from wayfold.book.materials import BackOrder, Duplex, Feed

TABLES = ("paper", "printer", "translucent")
"""What of the questions is asked here; thread is asked where the book is sewn."""


@dataclass(frozen=True, slots=True)
class Fact:
    """What is known of a paper or printer: by its key of book.toml, and where it comes from.

    ``source`` is "measured", "maker" or "estimated"; None for what is no number.
    """

    key: str
    value: str
    source: str | None


@dataclass(frozen=True, slots=True)
class Choice:
    """An entry to choose: its name, what it is called, and what is known of it."""

    name: str
    title: str
    facts: tuple[Fact, ...]
    own: bool


@dataclass(frozen=True, slots=True)
class Asked:
    """A question, the entries it offers (empty where it is none of entries), and what stands."""

    question: Question
    entries: tuple[Choice, ...]


@dataclass(frozen=True, slots=True)
class Weighed:
    """What answers come to: whether they were kept, and what is doubtful about them."""

    kept: bool
    findings: tuple[Finding, ...]


def list_asked(session: Session) -> Iterator[Asked]:
    """Give the questions on papers and printer."""
    root = session.folder.root
    materials = {(m.kind, m.name): m for m in list_materials(root)}
    for question in list_questions(root):
        table = question.key.split(".")[0]
        if table not in TABLES:
            continue
        entries = []
        if question.kind == "entry":
            for name in question.choices:
                material = materials[table, name]
                title = str(material.values.get("name", name))
                facts = tuple(
                    Fact(key, _write(value), material.sources.get(key))
                    for key, value in material.values.items()
                    if key != "name"
                )
                entries.append(Choice(name, title, facts, material.own))
        yield Asked(question, tuple(entries))


def answer(session: Session, answers: Mapping[str, object], *, anyway: bool) -> Weighed:
    """Keep answers unless they are doubtful beyond doubt (``anyway`` keeps them); undoable.

    Raises UserError for what is no question or no answer, and where no book can be made of it.
    """
    found = weigh_answers(session.folder.root, answers)
    keep = anyway or not blocks(found.findings)
    if keep:
        session.settle(found.tables)
    return Weighed(keep, found.findings)


def make_sheet_to_measure(session: Session) -> None:
    """Make the sheet that shows how leaves, grain and thread are measured."""
    make_measuring_sheet(session.folder.root)


def list_turning(
    session: Session, duplex: str | None, order: str | None, feed: str | None
) -> tuple[TurningStep, ...]:
    """Give the steps of laying and turning the paper; what is None is as the book has it.

    The others are values of ``Duplex``, ``BackOrder`` and ``Feed``.
    """
    book = session.results.book
    printer = replace(
        book.printer,
        duplex=Duplex(duplex or book.printer.duplex),
        back_order=BackOrder(order or book.printer.back_order),
        feed=Feed(feed or book.printer.feed),
    )
    return draw_turning_steps(printer, book.style)


def turning_svg(session: Session, steps: Sequence[TurningStep], number: int) -> str:
    """Draw step ``number`` (from 1). Raises NotFoundError where there is none."""
    if not 1 <= number <= len(steps):
        raise NotFoundError(f"There is no step {number}.")
    return session.shown.draw_svg(steps[number - 1].drawing)


def _write(value: object) -> str:
    if isinstance(value, list):
        return " × ".join(f"{number:g}" for number in value)
    return f"{value:g}" if isinstance(value, int | float) else str(value)
