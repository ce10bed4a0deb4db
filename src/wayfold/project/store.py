"""Opening, starting and changing the book in a folder."""

from __future__ import annotations

import contextlib
import dataclasses
import os
import tomllib
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

import tomlkit

from wayfold.base.errors import ConflictError, UserError
from wayfold.base.geometry import Rect
from wayfold.book.arranging import exchange
from wayfold.book.edits import (
    ChoosePlan,
    Edit,
    ExchangePictures,
    HoldBlocks,
    LeaveOut,
    PlaceByHand,
    SetCaption,
    SetChapterLeaf,
    SetClock,
    SetClockShown,
    SetCrop,
    SetDayNote,
    SetInterleaf,
    SetLeg,
    SetLodging,
    SetPicks,
    SetPocketItems,
    SetStocks,
    SetStop,
    SetText,
    SetTitle,
    SetWays,
    Unsay,
    change_journey,
)
from wayfold.book.registration import Registration
from wayfold.book.state import Book, PhotoChoice
from wayfold.book.style import Style
from wayfold.book.trip_choices import LegChoice, LodgingChoice, StopChoice, TripChoices
from wayfold.disk.refusals import explain_os_errors
from wayfold.photos.catalogue import KnownFile
from wayfold.photos.model import Photo
from wayfold.project.bench_schema import describe_bench, describe_item, describe_stock
from wayfold.project.book_tables import set_chapter, set_rows, set_tables
from wayfold.project.broken_off import finish_broken_off
from wayfold.project.decisions import book_from_tables
from wayfold.project.files import BookFolder
from wayfold.project.hand_tables import place_blocks
from wayfold.project.inside import require_inside
from wayfold.project.journal import Journal
from wayfold.project.journal_notes import Entry, Kind
from wayfold.project.materials_file import fill_tables
from wayfold.project.photos_file import Fields, change_tables
from wayfold.project.pin_tables import hold_blocks
from wayfold.project.reading import know_file, read_photo_tables, read_texts
from wayfold.project.schema import BOOK_VERSION, PHOTOS_VERSION, BookFile
from wayfold.project.style_files import choose_style, find_said
from wayfold.project.toml_edge import check_shape, read_toml
from wayfold.project.trip_file import read_trip_choices, write_trip_choices
from wayfold.project.trip_schema import TRIP_VERSION


@dataclass(frozen=True, slots=True)
class StoredBook:
    """A book as its folder holds it: the decisions, and which file is which photograph."""

    book: Book
    known: Mapping[str, KnownFile]


def load_book(folder: BookFolder) -> StoredBook:
    """Read the decisions in a folder. Raises UserError naming file, line, key and mend.

    A change that was broken off is finished before.
    """
    folder.require()
    finish_broken_off(folder)
    about = _read_book_file(folder)
    photos = read_photo_tables(folder)
    texts = read_texts(folder)
    for chapter in about.chapter:
        if chapter.text is not None and chapter.text not in texts:
            raise UserError(
                f"chapter {chapter.place!r} asks for a text {chapter.text!r} that is not there.",
                where="book.toml",
                remedy=f"Write texts/{chapter.text}.md, or take the key text away.",
            )
    root = folder.root.as_posix()
    known = {key: know_file(root, table.file, table.content) for key, table in photos.items()}
    book = book_from_tables(about, photos, texts, choose_style(about.style, folder))
    return StoredBook(dataclasses.replace(book, journey=read_trip_choices(folder)), known)


def load_style(folder: BookFolder) -> tuple[Style, Callable[[str], str]]:
    """Give a book's style, and what names the file and key that a value of it comes from.

    Raises UserError naming file, line, key and mend.
    """
    table = _read_book_file(folder).style
    return choose_style(table, folder), lambda key: find_said(table, key, folder)


def _read_book_file(folder: BookFolder) -> BookFile:
    folder.require()
    require_inside(folder)
    data = read_toml(folder.book_file, "book.toml", BOOK_VERSION)
    return check_shape(fill_tables(data, folder), BookFile, folder.book_file, "book.toml")


def start_book(folder: BookFolder, book: Book) -> None:
    """Begin a book in a folder. Raises ConflictError where one lies already.

    Written down are title, makers, paper, chapters, texts, the journey, and of the work at the
    bench what is not as usual; the rest of a book starts from its defaults, and photographs get
    their tables once they have been read.
    """
    if folder.book_file.exists():
        raise ConflictError(
            "There is a book in this folder already.",
            where=str(folder.root),
            remedy="Go on with it, or name another folder.",
        )
    for key, text in book.texts.items():
        folder.write(folder.texts / f"{key}.md", text.encode())
    with explain_os_errors(folder.texts):
        folder.texts.mkdir(parents=True, exist_ok=True)
    if book.journey != TripChoices() or not folder.trip_file.exists():
        write_trip_choices(folder, book.journey)
    folder.write(folder.book_file, tomlkit.dumps(_describe_book(folder, book)).encode())


def _describe_book(folder: BookFolder, book: Book) -> tomlkit.TOMLDocument:
    document = tomlkit.document()
    document.add(tomlkit.comment("A book for Wayfold. Change what you like; comments stay."))
    document["version"] = BOOK_VERSION
    document["style"] = book.style.name
    document["style"].comment("how it looks: wayfold styles shows those there are")
    about = tomlkit.table()
    for key in ("title", "subtitle", "author", "language", "openers_on"):
        about[key] = getattr(book, key)
    if book.finished:
        about["finished"] = book.finished
    about["photographs"] = [_portable(folder, Path(p)) for p in book.photographs]
    document["book"] = about
    paper = tomlkit.table()
    paper["sheet_mm"] = [book.paper.sheet.width, book.paper.sheet.height]
    paper["caliper_um"] = book.paper.caliper_um
    paper["caliper_um"].comment("measure: ten leaves pressed together, divided by ten")
    paper["caliper_source"] = book.paper.caliper_source.value
    paper["grain"] = book.paper.grain.value
    document["paper"] = paper
    for name, table in describe_bench(book.bench).items():
        document[name] = table
    if book.chapters:
        chapters = tomlkit.aot()
        for chapter in book.chapters:
            table = tomlkit.table()
            fields = dataclasses.asdict(chapter)
            table.update({k: v for k, v in fields.items() if v is not None and v is not False})
            chapters.append(table)
        document["chapter"] = chapters
    return document


def find_unknown(known: Mapping[str, KnownFile], photos: Iterable[Photo]) -> tuple[Photo, ...]:
    """Give the photographs that are new, or whose file is another than the book knows."""
    return tuple(p for p in photos if known.get(p.id) != KnownFile(p.path, p.content))


def remember_photos(
    folder: BookFolder, known: Mapping[str, KnownFile], photos: Iterable[Photo]
) -> None:
    """Write down which file is which photograph, where that is new or has changed."""
    changes: dict[str, Fields] = {
        photo.id: {"file": _portable(folder, Path(photo.path)), "content": photo.content}
        for photo in find_unknown(known, photos)
    }
    if changes:
        with Journal(folder).change("photographs found", Kind.NOTED) as draft:
            _change_photos(draft, changes)


def write_choices(folder: BookFolder, choices: Mapping[str, PhotoChoice]) -> None:
    """Write down decisions on many photographs at once, by id."""
    _change_photos(
        folder,
        {
            photo: {
                "pick": choice.pick.value,
                "caption": choice.caption,
                "crop": _crop_parts(choice.crop),
                "alone": choice.alone or None,
                "text": choice.text,
                "interleaf": choice.interleaf or None,
            }
            for photo, choice in choices.items()
        },
    )


SAID: Mapping[type, str] = {
    SetCaption: "a caption",
    SetPicks: "what is taken and left",
    SetCrop: "a crop",
    SetInterleaf: "an interleaf",
    SetChapterLeaf: "an interleaf",
    ChoosePlan: "another plan",
    HoldBlocks: "what is held fast on its page",
    SetWays: "how pictures lie",
    ExchangePictures: "pictures that changed places",
    PlaceByHand: "where pictures lie",
    SetTitle: "a title",
    SetText: "a text",
    SetStocks: "the sheets in the cupboard",
    SetPocketItems: "what goes into the pocket",
    SetStop: "a stop's name",
    StopChoice: "a stop's name",
    SetLeg: "a way",
    LegChoice: "a way",
    SetLodging: "where one slept",
    LodgingChoice: "where one slept",
    SetDayNote: "a day's line",
    SetClock: "a camera's clock",
    SetClockShown: "a picture of a clock",
    LeaveOut: "which calendar events count",
}
"""What each edit changes, in words."""


def write_edit(folder: BookFolder, *edits: Edit) -> Entry | None:
    """Put edits into the files they belong to; all together are one change that can be undone.

    Gives the change; None where everything was so already.
    """
    said = dict.fromkeys(_say_edit(edit) for edit in edits)
    journal = Journal(folder)
    with journal.change(", ".join(said)) as draft, _explain_broken(draft):
        for edit in edits:
            _write_edit(draft, edit)
    return journal.own


@contextlib.contextmanager
def _explain_broken(folder: BookFolder) -> Iterator[None]:
    """Say what is wrong with a file that cannot be changed, as one that is only half written."""
    try:
        yield
    except (tomllib.TOMLDecodeError, tomlkit.exceptions.ParseError, UnicodeDecodeError):
        read_toml(folder.book_file, "book.toml", BOOK_VERSION)
        others = ((folder.photos_file, PHOTOS_VERSION), (folder.trip_file, TRIP_VERSION))
        for path, version in others:
            if path.is_file():
                read_toml(path, path.name, version)
        raise


def _say_edit(edit: Edit) -> str:
    return SAID.get(type(edit.said if isinstance(edit, Unsay) else edit), "the journey")


def _write_edit(folder: BookFolder, edit: Edit) -> None:
    match edit:
        case SetCaption(photo, caption):
            _change_photos(folder, {photo: {"caption": caption}})
        case SetPicks(picks):
            _change_photos(folder, {photo: {"pick": str(pick)} for photo, pick in picks})
        case SetCrop(photo, crop):
            _change_photos(folder, {photo: {"crop": _crop_parts(crop)}})
        case SetInterleaf(photo, wanted):
            _change_photos(folder, {photo: {"interleaf": wanted or None}})
        case SetChapterLeaf(place, wanted):
            set_chapter(folder, place, {"interleaf": wanted or None})
        case ChoosePlan(choice):
            _change_book(folder, "plan", {"choice": choice.value})
        case HoldBlocks(pins):
            text = folder.book_file.read_text(encoding="utf-8")
            folder.write(folder.book_file, hold_blocks(text, pins).encode())
        case SetWays(ways):
            set_tables(folder, {"layout": {"ways": dict(ways)}})
        case PlaceByHand(blocks):
            text = folder.book_file.read_text(encoding="utf-8")
            folder.write(folder.book_file, place_blocks(text, dict(blocks)).encode())
        case ExchangePictures(one, other):
            pairs = exchange(tuple(_read_book_file(folder).layout.exchanged), one, other)
            listed = [list(pair) for pair in pairs] or None
            set_tables(folder, {"layout": {"exchanged": listed}})
        case SetTitle(place, title, subtitle):
            said = {"title": title, "subtitle": subtitle}
            if place:
                set_chapter(folder, place, said)
            else:
                set_tables(folder, {"book": {key: text or "" for key, text in said.items()}})
        case SetText(key, text):
            folder.write(folder.texts / f"{key}.md", text.encode())
        case SetStocks(stocks):
            set_rows(folder, ("stock",), [describe_stock(stock) for stock in stocks])
        case SetPocketItems(items):
            set_rows(folder, ("pocket", "item"), [describe_item(item) for item in items])
        case _:
            write_trip_choices(folder, change_journey(read_trip_choices(folder), edit))


SETTLED: Mapping[str, str] = {
    "case": "the case",
    "sewing": "the sewing",
    "pocket": "the pocket",
    "costs": "a price",
    "bench": "whose hands work",
}
"""What tables of book.toml are about, in words; of others it is said that settings changed."""


def write_settings(
    folder: BookFolder, tables: Mapping[str, Mapping[str, object]], *, is_tried: bool = False
) -> Entry | None:
    """Set keys in tables of book.toml (None takes one away); all else stays as it was written.

    A mapping as a value is a table within the table, and changed key by key as well. It can be
    undone; the change is given, None where all was so already. Where it ``is_tried``, and the book
    cannot be read with it, nothing changes and the UserError says why.
    """
    what = SETTLED.get("".join(tables), "settings")
    journal = Journal(folder)
    with journal.change(what) as draft, _explain_broken(draft):
        set_tables(draft, tables)
        if is_tried:
            load_book(draft)
    return journal.own


def _crop_parts(crop: Rect | None) -> list[float] | None:
    return [crop.x, crop.y, crop.width, crop.height] if crop else None


def write_registration(folder: BookFolder, read: Registration) -> None:
    """Put what was read off the registration sheet into book.toml."""
    values: dict[str, object] = {"offsets_mm": [[p.x, p.y] for p in read.offsets]}
    if read.across is not None:
        values["across_mm"] = read.across
    if read.along is not None:
        values["along_mm"] = read.along
    with Journal(folder).change("the printer's registration") as draft:
        _change_book(draft, "registration", values)


def _change_photos(folder: BookFolder, changes: Mapping[str, Fields]) -> None:
    path = folder.photos_file
    text = path.read_text(encoding="utf-8") if path.is_file() else ""
    folder.write(path, change_tables(text, changes).encode())


def _change_book(folder: BookFolder, table: str, values: Mapping[str, object]) -> None:
    """Set keys of a table of book.toml; all else, comments too, stays as it was written."""
    document = tomlkit.parse(folder.book_file.read_text(encoding="utf-8"))
    document.setdefault(table, tomlkit.table()).update(values)
    folder.write(folder.book_file, tomlkit.dumps(document).encode())


def _absolute(folder: BookFolder, name: str) -> Path:
    return Path(os.path.normpath(folder.root / name))


def _portable(folder: BookFolder, path: Path) -> str:
    """A path relative to the book where it lies inside it, absolute elsewhere."""
    full = _absolute(folder, path.as_posix())
    inside = full.is_relative_to(folder.root)
    return full.relative_to(folder.root).as_posix() if inside else full.as_posix()
