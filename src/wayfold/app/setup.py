"""Answers to the questions of setting up, weighed and written; asked by any skin.

Answers are plain values by the question's key. What they make of book.toml is worked out and
doubted first, and only then written.
"""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from wayfold.app.fonts import open_typesetter
from wayfold.app.setup_doubts import doubt_answers
from wayfold.app.setup_questions import (
    CHOICE,
    ENTRY,
    LEAVES,
    NUMBER,
    SIZE,
    TURNS,
    Question,
    ask_questions,
)
from wayfold.base.errors import UserError
from wayfold.base.findings import Finding, blocks
from wayfold.base.geometry import Size
from wayfold.base.units import UM_PER_MM
from wayfold.bench.measuring_sheet import draw_measuring
from wayfold.book.materials import Duplex, Grain, Source, Surface
from wayfold.book.state import Book
from wayfold.disk.refusals import explain_os_errors
from wayfold.project.files import BookFolder
from wayfold.project.materials_file import Material, read_materials
from wayfold.project.store import load_book, write_settings
from wayfold.typeset.assemble import DocumentInfo, assemble_pdf

SHEET = "measuring.pdf"


@dataclass(frozen=True, slots=True)
class SetUp:
    """What answers come to: keys of book.toml by table (None: taken away), and what is doubtful."""

    tables: Mapping[str, Mapping[str, Any]]
    findings: tuple[Finding, ...]
    written: bool

    def to_json(self) -> dict[str, Any]:
        """Give it as plain values."""
        tables = {table: dict(values) for table, values in self.tables.items()}
        findings = [f.to_json() for f in self.findings]
        return {"tables": tables, "findings": findings, "written": self.written}


def list_questions(root: Path) -> tuple[Question, ...]:
    """Give all questions of a book, with what stands now as their defaults."""
    folder = BookFolder(root.resolve())
    book = load_book(folder).book
    return tuple(ask_questions(book, read_materials(folder)))


def list_materials(root: Path) -> tuple[Material, ...]:
    """Give all entries there are to choose from, the person's own among them."""
    folder = BookFolder(root.resolve())
    folder.require()
    return tuple(read_materials(folder).values())


def weigh_answers(root: Path, answers: Mapping[str, Any]) -> SetUp:
    """Work out what answers come to, and what is doubtful about them; nothing is written.

    Raises UserError for a key that is no question's and for a value that is no answer to it.
    """
    folder = BookFolder(root.resolve())
    book = load_book(folder).book
    materials = read_materials(folder)
    tables = _derive_tables(ask_questions(book, materials), answers)
    for (kind, name), material in materials.items():
        table, key = (kind, "use") if kind != "thread" else ("sewing", "use_thread")
        if tables.get(table, {}).get(key) == name:
            # What stands in the table would go before the entry that was chosen just now.
            for stale in (*material.values, "caliper_source"):
                tables[table].setdefault(stale, None)
    return SetUp(tables, tuple(doubt_answers(_apply(book, tables, materials))), written=False)


def answer_questions(root: Path, answers: Mapping[str, Any], *, anyway: bool = False) -> SetUp:
    """Write answers into book.toml, unless they are doubtful beyond doubt (``anyway`` writes them).

    Raises UserError as ``weigh_answers`` does.
    """
    weighed = weigh_answers(root, answers)
    if blocks(weighed.findings) and not anyway:
        return weighed
    folder = BookFolder(root.resolve())
    write_settings(folder, weighed.tables, is_tried=True)
    return replace(weighed, written=True)


def read_answers(path: Path) -> dict[str, Any]:
    """Read a JSON file of answers by key. Raises UserError."""
    try:
        answers = json.loads(path.read_text(encoding="utf-8"))
    except (OSError, ValueError, RecursionError) as error:
        raise UserError(
            f"The answers cannot be read ({error}).",
            where=str(path),
            remedy='Write JSON, for example {"paper.grain": "short", "paper.ten_leaves_mm": 2.4}.',
        ) from error
    if not isinstance(answers, dict):
        raise UserError(
            "The answers are no table of keys and values.",
            where=str(path),
            remedy='Write for example {"paper.grain": "short"}.',
        )
    return answers


def make_measuring_sheet(root: Path) -> Path:
    """Write out/measuring.pdf: how to measure leaves, grain and thread, with room to note it."""
    folder = BookFolder(root.resolve())
    book = load_book(folder).book
    target = folder.out / SHEET
    with explain_os_errors(folder.out):
        folder.out.mkdir(parents=True, exist_ok=True)
        part = target.with_name(f".{SHEET}.part")
        try:
            part.write_bytes(open_typesetter(folder).page_pdf(draw_measuring(book.style)).pdf)
            assemble_pdf((part,), {}, target, DocumentInfo("Measuring sheet", language="en"))
        finally:
            part.unlink(missing_ok=True)
    return target


def _derive_tables(
    questions: Sequence[Question], answers: Mapping[str, Any]
) -> dict[str, dict[str, Any]]:
    known = {q.key: q for q in questions}
    tables: dict[str, dict[str, Any]] = {}
    for key, answer in answers.items():
        question = known.get(key)
        if question is None:
            raise UserError(
                f"There is no question {key!r}.",
                where="answers",
                remedy=f"Questions: {', '.join(known)}.",
            )
        if answer is None or answer == "":
            continue
        value = _read(question, answer)
        table, name = key.split(".")
        keys = tables.setdefault(table, {})
        if name == "ten_leaves_mm":
            keys["caliper_um"] = round(value / LEAVES * UM_PER_MM, 1)
            keys["caliper_source"] = Source.MEASURED.value
        elif name == "ten_turns_mm":
            keys["thread_mm"] = round(value / TURNS, 3)
        else:
            keys[name] = value
    return tables


def _read(question: Question, answer: Any) -> Any:
    if question.kind == NUMBER:
        return _read_number(question, answer)
    if question.kind == SIZE:
        if isinstance(answer, str):
            parts: Sequence[Any] = answer.lower().replace("×", "x").removesuffix("mm").split("x")
        else:
            parts = answer if isinstance(answer, list | tuple) else ()
        if len(parts) != 2:
            raise _no_answer(question, answer, "Write width × height in mm: 483 × 329.")
        return [_read_number(question, part) for part in parts]
    text = str(answer).strip()
    if question.kind in (CHOICE, ENTRY) and text not in question.choices:
        raise _no_answer(question, answer, f"Choose one of: {', '.join(question.choices)}.")
    return text


def _read_number(question: Question, answer: Any) -> float:
    text = str(answer).strip().lower()
    if any(unit in text for unit in ('"', "″", "in", "cm")):
        raise _no_answer(
            question, answer, "Write millimetres, the figures alone (1 in = 25.4 mm, 1 cm = 10 mm)."
        )
    for unit in ("mm", "g/m²", "g/m2", "gsm"):
        text = text.removesuffix(unit).strip()
    try:
        value = float(text.replace(",", "."))
    except ValueError as error:
        raise _no_answer(question, answer, "Write a number: 2.4") from error
    if not 0 <= value < 10_000:
        raise _no_answer(question, answer, "Write a number that can be measured, without a minus.")
    return value


def _no_answer(question: Question, answer: Any, remedy: str) -> UserError:
    return UserError(f"{answer!r} is no answer to: {question.words}", where=question.key,
                     remedy=remedy)  # fmt: skip


def _apply(
    book: Book,
    tables: Mapping[str, Mapping[str, Any]],
    materials: Mapping[tuple[str, str], Material],
) -> Book:
    """Give the book as the answers have it, as far as they can be doubted."""

    def filled(table: str, kind: str, use: str) -> dict[str, Any]:
        values = {k: v for k, v in tables.get(table, {}).items() if v is not None}
        name = values.pop(use, None)
        entry = materials.get((kind, name)) if name else None
        return {**(entry.values if entry else {}), **values}

    paper = filled("paper", "paper", "use")
    veil = filled("translucent", "translucent", "use")
    printer = filled("printer", "printer", "use")
    thread = filled("sewing", "thread", "use_thread")
    margins = {
        key.removesuffix("_mm"): value for key, value in printer.items() if key.startswith("margin")
    }
    duplex = Duplex(printer.get("duplex", book.printer.duplex.value))
    return replace(
        book,
        paper=replace(
            book.paper,
            name=paper.get("name", book.paper.name),
            sheet=Size(*paper.get("sheet_mm", (book.paper.sheet.width, book.paper.sheet.height))),
            grammage_gsm=paper.get("grammage_gsm", book.paper.grammage_gsm),
            caliper_um=paper.get("caliper_um", book.paper.caliper_um),
            grain=Grain(paper.get("grain", book.paper.grain.value)),
            surface=Surface(paper.get("surface", book.paper.surface.value)),
        ),
        translucent=replace(
            book.translucent,
            name=veil.get("name", book.translucent.name),
            sheet=Size(
                *veil.get("sheet_mm", (book.translucent.sheet.width, book.translucent.sheet.height))
            ),
            grammage_gsm=veil.get("grammage_gsm", book.translucent.grammage_gsm),
            caliper_um=veil.get("caliper_um", book.translucent.caliper_um),
        ),
        printer=replace(
            book.printer,
            duplex=duplex,
            margin_left=margins.get("margin_left", book.printer.margin_left),
            margin_right=margins.get("margin_right", book.printer.margin_right),
            margin_head=margins.get("margin_head", book.printer.margin_head),
            margin_foot=margins.get("margin_foot", book.printer.margin_foot),
        ),
        bench=replace(
            book.bench,
            sewing=replace(
                book.bench.sewing, thread=thread.get("thread_mm", book.bench.sewing.thread)
            ),
        ),
    )
