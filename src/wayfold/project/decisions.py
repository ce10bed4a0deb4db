"""From the files' tables to the decisions they stand for."""

from __future__ import annotations

from collections.abc import Mapping

from wayfold.base.geometry import Point, Size
from wayfold.book.materials import Binding, Paper, Printer, Translucent
from wayfold.book.planning import PinChoice, Planning
from wayfold.book.registration import Registration
from wayfold.book.reprinting import Reprinting
from wayfold.book.state import Book, ChapterChoice
from wayfold.book.style import Style
from wayfold.project.bench_schema import bench_from_tables
from wayfold.project.layout_schema import arranging_from_table
from wayfold.project.schema import (
    BookFile,
    PaperTable,
    PhotoTable,
    PlanTable,
    PrinterTable,
    RegistrationTable,
    TranslucentTable,
)


def book_from_tables(
    file: BookFile, photos: Mapping[str, PhotoTable], texts: Mapping[str, str], style: Style
) -> Book:
    """Give the book that the tables and texts describe, in the ``style`` they name."""
    about = file.book
    return Book(
        title=about.title,
        subtitle=about.subtitle,
        author=about.author,
        finished=about.finished,
        language=about.language,
        trim=Size(file.page.width_mm, file.page.height_mm),
        bleed=file.page.bleed_mm,
        paper=_paper(file.paper),
        translucent=_translucent(file.translucent),
        printer=_printer(file.printer),
        binding=Binding(**file.binding.model_dump()),
        style=style,
        registration=_registration(file.registration),
        planning=_planning(file.plan),
        arranging=arranging_from_table(file.layout),
        reprinting=Reprinting(file.printed.ignore_shift_mm, file.printed.ignore_marks),
        photographs=tuple(about.photographs),
        openers_on=about.openers_on,
        chapters=tuple(ChapterChoice(**c.model_dump()) for c in file.chapter),
        choices={key: choice for key, table in photos.items() if (choice := table.choice)},
        texts=dict(texts),
        bench=bench_from_tables(file),
    )


def _paper(table: PaperTable) -> Paper:
    fields = table.model_dump(exclude={"sheet_mm"})
    return Paper(sheet=Size(*table.sheet_mm), **fields)


def _translucent(table: TranslucentTable) -> Translucent:
    fields = table.model_dump(exclude={"sheet_mm", "read_through", "both_sides", "gap_mm"})
    return Translucent(
        sheet=Size(*table.sheet_mm),
        gap=table.gap_mm,
        read_through=tuple(table.read_through),
        both_sides=tuple(table.both_sides),
        **fields,
    )


def _printer(table: PrinterTable) -> Printer:
    return Printer(**{key.removesuffix("_mm"): v for key, v in table.model_dump().items()})


def _registration(table: RegistrationTable | None) -> Registration | None:
    if table is None:
        return None
    a, b, c, d = (Point(x, y) for x, y in table.offsets_mm)
    return Registration((a, b, c, d), table.across_mm, table.along_mm)


def _planning(table: PlanTable) -> Planning:
    pins = tuple(PinChoice(**pin.model_dump()) for pin in table.pin)
    return Planning(table.choice, dict(table.prices), pins, table.states_max)
