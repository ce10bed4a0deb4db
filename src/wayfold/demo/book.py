"""Writes the demo's book folder: decisions, texts, and the pictures they are about."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from wayfold.app.new import decide_by_path
from wayfold.base.progress import Progress
from wayfold.book.casing import BenchChoices, Pocket, PocketItem
from wayfold.book.materials import Grain, Paper, Source
from wayfold.book.state import Book
from wayfold.book.style import Style
from wayfold.demo.compose import make_demo_book
from wayfold.demo.model import DemoBook
from wayfold.demo.scenario import read_journey, read_journey_file
from wayfold.demo.strolls import write_strolls
from wayfold.demo.town import TOWN, add_town
from wayfold.disk.placing import write_whole
from wayfold.project.files import BookFolder
from wayfold.project.store import start_book
from wayfold.project.style_files import read_style

POCKETED = (
    PocketItem("twenty-three tickets", 86.0, 190.0, 4.0),
    PocketItem("map of Rome, folded", 110.0, 205.0, 2.0),
)
"""What our makers brought home; the tickets are those of the text on Rome."""


def write_demo_book(
    root: Path, progress: Progress, *, paint_only: bool = False, style: str = Style().name
) -> DemoBook:
    """Put the demo's book into ``root``, ready to be made.

    A book that lies there already keeps its decisions; only missing pictures are written again.
    ``style`` names the style of a new one. Raises NotFoundError for a style that is not there.
    """
    folder = BookFolder(root.resolve())
    look = read_style(style, folder).style
    demo = make_demo_book(folder.root, progress, paint_only=paint_only)
    if not folder.book_file.exists():
        start_book(
            folder,
            Book(
                demo.title,
                subtitle=demo.subtitle,
                author=demo.author,
                language=demo.language,
                # Our makers looked: the sheets were cut from a roll, so the grain is right.
                paper=Paper(caliper_source=Source.MEASURED, grain=Grain.SHORT),
                photographs=(demo.photographs,),
                style=look,
                chapters=demo.chapters,
                texts=demo.texts,
                bench=BenchChoices(pocket=Pocket(POCKETED)),
            ),
        )
        write_whole(folder.trip_file, read_journey_file("trip.toml"))
        write_whole(folder.calendars / "bookings.ics", read_journey_file("bookings.ics"))
        write_strolls(folder.root / "tracks", read_journey(), leave_out=(TOWN,))
        if not paint_only:
            demo = replace(demo, notices=(*demo.notices, *add_town(folder, progress)))
    if not folder.photos_file.exists():
        choices = {folder.root / path: choice for path, choice in demo.choices.items()}
        decide_by_path(root, choices, progress)
    return demo
