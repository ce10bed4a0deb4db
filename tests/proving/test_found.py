"""Cases that the long runs found, or that were found in looking where they would: each once."""

from __future__ import annotations

import json
import os
import struct
from pathlib import Path

import pi_heif
import pytest
from PIL import ImageCms

from wayfold.app import streets
from wayfold.app.refold import refold_folder
from wayfold.base.errors import UserError
from wayfold.base.geometry import Size
from wayfold.base.progress import NoProgress
from wayfold.base.revive import revive
from wayfold.book.edits import SetText
from wayfold.checks.registration_photo import DiscPlan, read_discs
from wayfold.checks.soft_proof import PrinterProfile
from wayfold.maps.projection import Extent
from wayfold.photos.facts import decode_outcome
from wayfold.photos.heic_pixels import open_heic
from wayfold.photos.look_record import unpack_look
from wayfold.photos.refusals import RefusedError
from wayfold.project.cache import DiskCache
from wayfold.project.files import BookFolder
from wayfold.project.journal_contents import KeptContents, Rewriting
from wayfold.project.journal_notes import Notes
from wayfold.project.journal_placing import finish
from wayfold.project.ledger_file import read_ledger
from wayfold.project.plan_file import read_plan
from wayfold.project.store import load_book, write_edit
from wayfold.typeset.fonts import PACKAGED, FontLibrary, read_alphabet, read_small_capitals
from wayfold.typeset.own_fonts import judge_own_fonts, refuse_unfit

BOOK = 'version = 1\n[book]\ntitle = "T"\n'
DEEP = "[" * 100_000


def refuse(root: Path, text: str) -> UserError:
    (root / "book.toml").write_text(text, encoding="utf-8")
    with pytest.raises(UserError) as caught:
        load_book(BookFolder(root))
    assert caught.value.what
    assert caught.value.remedy
    return caught.value


@pytest.mark.parametrize(
    "line",
    [
        f"photographs = {DEEP}",
        "photographs = " + "{a = " * 100_000,
        "openers_on = " + "9" * 5000,
        "openers_on = 0x" + "f" * 5000,
    ],
    ids=["brackets", "braces", "digits", "hexadecimal digits"],
)
def test_toml_that_python_cannot_hold(tmp_path: Path, line: str) -> None:
    assert len(str(refuse(tmp_path, f"{BOOK}{line}\n"))) < 1000


def test_a_figure_of_an_own_paper_in_quotation_marks(tmp_path: Path) -> None:
    paper = 'version = 1\n[paper.mine]\ngrammage_gsm = [120, "measured"]\ncaliper_um = "150"\n'
    (tmp_path / "materials.toml").write_text(paper, encoding="utf-8")
    refused = refuse(tmp_path, f'{BOOK}[paper]\nuse = "mine"\n')
    assert (refused.where, refused.what[:22]) == ("materials.toml", "paper.mine.caliper_um:")


@pytest.mark.parametrize("version", ["0x" + "f" * 5000, "true", "-0x" + "f" * 5000])
def test_a_version_that_is_none(tmp_path: Path, version: str) -> None:
    assert len(str(refuse(tmp_path, f"version = {version}\n"))) < 1000


@pytest.mark.parametrize("sheets", ["[1000000000000]", "[" + "64, " * 2000 + "]"])
def test_a_plan_of_more_sheets_than_any_book_has(tmp_path: Path, sheets: str) -> None:
    path = tmp_path / "plan.lock.toml"
    facts = 'version = 1\nstory = "a"\nstatus = "optimal"\ncost = 1\nbound = 1\n'
    path.write_text(f"{facts}sheets = {sheets}\n", encoding="utf-8")
    with pytest.raises(UserError, match="sheets"):
        read_plan(path)


@pytest.mark.parametrize("ink", [DEEP, '["SheetInk", "1", 1e999, 2]', "1" * 5000])
def test_ink_of_a_ledger_that_cannot_be_read(tmp_path: Path, ink: str) -> None:
    path = tmp_path / "printed.lock.toml"
    facts = 'label = "1"\nday = "2025-09-01"\nlooks = ["a", "b"]\nviewer = ""\ncode = ""\n'
    path.write_text(f"version = 1\n[[sheet]]\n{facts}ink = '{ink}'\n", encoding="utf-8")
    with pytest.raises(UserError, match="cannot be read"):
        read_ledger(path)


def test_a_number_too_large_to_be_one_is_no_value() -> None:
    with pytest.raises(ValueError, match="too large"):
        revive(10**400, float)


@pytest.mark.parametrize("data", [DEEP.encode(), b"7", b"[]", b'{"size": [1e999, 2]}', b"\xff"])
def test_records_that_nobody_wrote_count_as_not_kept(data: bytes) -> None:
    assert decode_outcome(data) is None
    assert unpack_look(data) is None


def test_facts_of_a_size_without_end() -> None:
    facts = {"format": "JPEG", "size": [float("inf"), 3], "taken": None, "place": None}
    facts |= dict.fromkeys(("camera", "gps_utc", "credit", "caption", "rating"))
    facts |= {"orientation": 1, "profile": "sRGB", "remarks": []}
    assert decode_outcome(json.dumps(facts).encode()) is None


def test_a_record_that_a_disk_spoilt_counts_as_not_kept(tmp_path: Path) -> None:
    cache = DiskCache(tmp_path, "towns")
    cache.put("abc", b'{"at 1 2": []}')
    (file,) = (path for path in tmp_path.rglob("*") if path.is_file())
    whole = file.read_bytes()
    for at in range(len(whole)):
        file.write_bytes(whole[:at] + bytes([whole[at] ^ 4]) + whole[at + 1 :])
        assert cache.get("abc") is None
    file.write_bytes(whole[:-3])
    assert cache.get("abc") is None
    file.unlink()
    file.mkdir()
    assert cache.get("abc") is None


@pytest.mark.parametrize("plan", ["", "{}", "[]", DEEP, '{"folding": 3}'])
def test_a_plan_that_says_nothing_of_folding(tmp_path: Path, plan: str) -> None:
    (tmp_path / "book.toml").write_text(BOOK, encoding="utf-8")
    (tmp_path / "out").mkdir()
    for name in ("sheets.pdf", "reading.pdf"):
        (tmp_path / "out" / name).write_bytes(b"")
    (tmp_path / "out" / "plan.json").write_text(plan, encoding="utf-8")
    with pytest.raises(UserError) as caught:
        refold_folder(tmp_path, NoProgress())
    assert caught.value.remedy


def test_a_folder_that_lies_where_a_file_is_to_be(tmp_path: Path) -> None:
    folder = BookFolder(tmp_path)
    folder.book_file.write_text(BOOK, encoding="utf-8")
    (folder.texts / "porto.md").mkdir(parents=True)
    with pytest.raises(UserError, match="A folder lies") as caught:
        write_edit(folder, SetText("porto", "We went west.\n"))
    assert caught.value.where.endswith("porto.md")
    (folder.texts / "porto.md").rmdir()
    assert load_book(folder).book.texts["porto"] == "We went west.\n"


def test_a_style_whose_name_no_disk_takes(tmp_path: Path) -> None:
    assert "name" in refuse(tmp_path, f"{BOOK}[style]\nname = '{'a' * 20_000}'\n").what


def test_a_fault_behind_a_line_end_that_toml_does_not_know(tmp_path: Path) -> None:
    assert "line 5" in refuse(tmp_path, f"{BOOK}# a\u2028b\nauthor = 5\n").where


def test_a_page_number_of_thousands_of_digits(tmp_path: Path) -> None:
    assert refuse(tmp_path, f"{BOOK}[[plan.pin]]\nblock = 'a'\npage = 0x{'f' * 5000}\n")


def test_a_table_of_a_photograph_that_python_cannot_hold(tmp_path: Path) -> None:
    (tmp_path / "book.toml").write_text(BOOK, encoding="utf-8")
    table = f"version = 1\n[photo.abc]\nfile = 'a'\ncontent = {DEEP}\n"
    (tmp_path / "photos.toml").write_text(table, encoding="utf-8")
    with pytest.raises(UserError, match="nested"):
        load_book(BookFolder(tmp_path))


def test_a_profile_whose_name_is_not_ascii() -> None:
    data = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    spoilt = data.replace("sRGB".encode("utf-16-be"), "s\u034fG\ud7ff".encode("utf-16-be"))
    assert spoilt != data
    assert PrinterProfile(spoilt, "printer.icc").name


def test_a_profile_without_a_name_is_called_by_its_file_and_not_by_where_it_lies(
    tmp_path: Path,
) -> None:
    data = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    (tmp_path / "printer.icc").write_bytes(data.replace(b"desc", b"xxxx"))
    assert PrinterProfile.read(tmp_path / "printer.icc").name == "printer.icc"


@pytest.mark.parametrize("table", [b"GSUB", b"cmap", b"OS/2", b"hmtx", b"name", b"maxp"])
def test_a_font_with_a_table_cut_short(tmp_path: Path, table: bytes) -> None:
    (source, *_) = sorted(PACKAGED.rglob("*.ttf"))
    font = bytearray(source.read_bytes())
    entry = font.index(table)
    font[entry + 12 : entry + 16] = (5).to_bytes(4, "big")
    (tmp_path / "own.ttf").write_bytes(font)
    refuse_unfit(tmp_path, str)
    library = FontLibrary((), tmp_path)
    family = library.own[0].family if library.own else "EB Garamond"
    list(judge_own_fonts(tmp_path, library, family, family, "en", str))
    read_small_capitals(tmp_path / "own.ttf")
    read_alphabet(tmp_path / "own.ttf")


def _make_font(kind: int, signs: bytes) -> bytes:
    """Give a font file that ends with a table "cmap" of one kind, which names ``signs``."""
    (source, *_) = sorted(PACKAGED.rglob("*.ttf"))
    font = source.read_bytes()
    entry = font.index(b"cmap")
    table = struct.pack(">HHHHIH", 0, 1, 3, 10, 12, kind) + signs
    place = struct.pack(">II", len(font), len(table))
    return font[: entry + 8] + place + font[entry + 16 :] + table


@pytest.mark.parametrize("kind", [4, 8, 12])
def test_a_font_that_ends_within_the_table_of_its_signs(tmp_path: Path, kind: int) -> None:
    (tmp_path / "own.ttf").write_bytes(_make_font(kind, b"\0\0\0\0\0\2"))
    refuse_unfit(tmp_path, lambda path: path.name)  # what it lacks is for others to say


@pytest.mark.parametrize(
    ("kind", "signs"),
    [
        (12, struct.pack(">HIIIIII", 0, 28, 0, 1, 0x20, 0xFFFFFFFE, 3)),
        (4, struct.pack(">HHHHHH", 0, 0, 1000, 0, 0, 0) + b"\xff\xff" * 500 + bytes(1002)),
    ],
)
def test_a_font_that_claims_more_signs_than_there_are(
    tmp_path: Path, kind: int, signs: bytes
) -> None:
    # Whoever lists what it claims fills the memory, and ends the process.
    (tmp_path / "own.ttf").write_bytes(_make_font(kind, signs))
    with pytest.raises(UserError, match="damaged") as caught:
        refuse_unfit(tmp_path, lambda path: path.name)
    assert caught.value.where == "own.ttf"


def test_a_heic_file_without_a_main_picture(monkeypatch: pytest.MonkeyPatch) -> None:
    # The decoder takes a damaged file for one of no pictures, and tells so by an IndexError.
    monkeypatch.setattr(pi_heif, "open_heif", lambda *_, **__: pi_heif.HeifFile())
    with pytest.raises(RefusedError):
        open_heic("a.heic")


def _break_down(_: object) -> None:
    os._exit(139)


def test_street_data_that_brings_its_reader_down(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    # Some damaged .osm.pbf bring the library down with the whole process.
    (tmp_path / "streets").mkdir()
    (tmp_path / "streets" / "town.osm").write_text("<osm version='0.6'/>", encoding="utf-8")
    monkeypatch.setattr(streets, "_read_wanted", _break_down)
    with pytest.raises(UserError, match="broke down") as caught:
        streets.read_streets(BookFolder(tmp_path), Extent(7.4, 43.7, 7.5, 43.8), NoProgress())
    assert "town.osm" in caught.value.where
    assert caught.value.remedy


SOUND = {
    "number": 2, "kind": "undo", "what": "w", "at": "2025-09-01T09:20:31", "of": 1,
    "before": {"book.toml": "a" * 32}, "after": {"book.toml": "b" * 32},
}  # fmt: skip


@pytest.mark.parametrize(
    "changed",
    [
        {"number": "2"}, {"of": [1]}, {"what": None}, {"before": 3}, {"after": []},
        {"after": {"book.toml": 7}}, {"after": {"book.toml": "9" * 5000}},
        {"after": {"../outside.md": "b" * 32}}, {"after": {"/etc/outside": "b" * 32}},
        {"before": {"C:\\outside.md": "a" * 32}}, {"staged": {"texts/../../x": "y"}},
        {"kept": {"b" * 32: {"of": "../x", "pieces": []}}}, {"kept": 3}, {"more": 1},
        {"kept": {"b" * 32: {"of": "a" * 32, "pieces": [[0, float("inf"), "x"]]}}},
        {"before": {"*" * 300: "a" * 32}}, {"after": {"\ud800.md": "b" * 32}},
    ],
    ids=str,
)  # fmt: skip
def test_a_note_that_wayfold_never_wrote_counts_as_torn(
    tmp_path: Path, changed: dict[str, object]
) -> None:
    list_of_changes = tmp_path / "journal.jsonl"
    list_of_changes.write_text(json.dumps(SOUND | changed) + "\n" + DEEP + "\n", encoding="utf-8")
    notes = Notes(tmp_path)
    notes.catch_up()
    assert notes.count == 0
    list_of_changes.write_text(json.dumps(SOUND) + "\n", encoding="utf-8")
    notes.catch_up()  # what is undone is lacking: the note stands, and nothing can be done again
    assert (notes.count, notes.stacks) == (1, ((), ()))


@pytest.mark.parametrize(
    ("name", "part"),
    [
        ("book.toml", "."), ("book.toml", ".."), ("book.toml", ".next"), ("book.toml", ".x.next"),
        ("book.toml", ".book.toml.kept"), ("", "..next"), (".", "..1.next"), ("", ".lost.next"),
        ("book.toml", "\0"), ("texts/..", ".a.next"), ("book.toml", "texts/.book.toml.1.next"),
    ],
)  # fmt: skip
def test_a_note_of_what_never_waited_moves_nothing(tmp_path: Path, name: str, part: str) -> None:
    book = BookFolder(tmp_path / "book")
    (book.root / "texts").mkdir(parents=True)
    lures = [
        tmp_path / ".lost.next", book.root / "book.toml", book.root / ".book.toml.kept",
        book.root / "texts" / ".book.toml.1.next",
    ]  # fmt: skip
    for lure in lures:
        lure.write_text(lure.name, encoding="utf-8")
    finish(book, {name: part}, lambda _: True)
    kept = [lure for lure in lures if lure.parent != book.root / "texts"]  # there it is swept
    assert [lure.read_text(encoding="utf-8") for lure in kept] == [lure.name for lure in kept]


def test_rewritings_that_go_round_give_nothing(tmp_path: Path) -> None:
    contents = KeptContents(tmp_path)
    contents.learn({"a" * 32: Rewriting("b" * 32, ()), "b" * 32: Rewriting("a" * 32, ())})
    with pytest.raises(UserError, match="not there any more"):
        contents.read("a" * 32)


@pytest.mark.parametrize("ending", [b"", b"\0\0\0\x0dIHDR\0\0"])
def test_a_registration_picture_that_is_cut(tmp_path: Path, ending: bytes) -> None:
    (tmp_path / "seen.png").write_bytes(b"\x89PNG\r\n\x1a\n" + ending)
    plan = DiscPlan(Size(483.0, 329.0), (), (), 4.0)
    with pytest.raises(UserError):
        read_discs(tmp_path / "seen.png", plan)
