"""A book with translucent leaves: made, folded back, and wrong files of leaves caught."""

import json
import re
import shutil
from pathlib import Path

import pikepdf
import pytest

from wayfold.app.make import make_book
from wayfold.app.refold import refold_folder
from wayfold.app.session import Session
from wayfold.base.errors import NotFoundError
from wayfold.base.progress import NoProgress


@pytest.fixture(scope="module")
def veiled(made_once: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The small book, its chapters opening behind translucent leaves: to be read only."""
    book = tmp_path_factory.mktemp("veiled") / made_once.name
    shutil.copytree(made_once, book)
    path = book / "book.toml"
    wishes = "".join(
        f'\n[[chapter]]\nplace = "{p}"\ninterleaf = true\n' for p in ("Lisbon", "Porto")
    )
    path.write_text(path.read_text("utf-8") + wishes, "utf-8")
    make_book(book, NoProgress())
    plan = json.loads((book / "out" / "plan.json").read_text("utf-8"))
    assert plan["interleaves"]
    return book


def test_the_leaves_fall_where_the_plan_says(veiled: Path) -> None:
    report = refold_folder(veiled, NoProgress())
    assert report.ok, [f.message for f in report.findings]


def test_viewers_call_the_pages_by_the_books_numbers(veiled: Path) -> None:
    view = Session.open(veiled, NoProgress()).shown.view()
    with pikepdf.open(veiled / "out" / "reading.pdf") as pdf:
        labels = [page.label for page in pdf.pages]
    assert labels == [str(p.number) if p.veiled is None else f"({p.number})" for p in view.reading]


def test_the_desk_shows_the_leaves_a_reader_turns(veiled: Path) -> None:
    session = Session.open(veiled, NoProgress()).shown
    view = session.view()
    plan = json.loads((veiled / "out" / "plan.json").read_text("utf-8"))
    gaps = [
        end["after_page"]
        for interleaf in plan["interleaves"]
        for end in interleaf["ends"]
        if end["role"] != "stub"
    ]
    # Bare pages as they are numbered; after each gap's verso two pages more for every leaf.
    assert [p.number for p in view.reading if p.veiled is None] == [p.number for p in view.pages]
    veiled_pages = [p for p in view.reading if p.veiled is not None]
    assert [p.veiled for p in veiled_pages] == list(range(1, 2 * len(gaps) + 1))
    assert sorted(p.number for p in veiled_pages) == sorted(n for g in gaps for n in (g, g + 1))
    for page in veiled_pages:
        assert session.veiled_svg(page.veiled or 0).startswith("<svg")
    under = next(p for p in veiled_pages if "/assets/" in session.veiled_svg(p.veiled or 0))
    (address, *_) = re.findall(r"/assets/([^\"]+)\.jpg", session.veiled_svg(under.veiled or 0))
    assert session.asset_jpeg(address).startswith(b"\xff\xd8")
    with pytest.raises(NotFoundError):
        session.veiled_svg(len(veiled_pages) + 1)


@pytest.mark.parametrize("fault", ["turned", "exchanged", "blank"])
def test_wrong_leaves_are_caught(veiled: Path, tmp_path: Path, fault: str) -> None:
    spoilt = tmp_path / veiled.name
    shutil.copytree(veiled, spoilt)
    path = spoilt / "out" / "interleaves.pdf"
    with pikepdf.open(path, allow_overwriting_input=True) as pdf:
        if fault == "turned":
            for page in pdf.pages:
                page.rotate(180, relative=True)
        elif fault == "exchanged":
            pdf.pages.reverse()  # fronts for backs, and the last sheet first
        else:
            for page in pdf.pages:
                page.Contents = pdf.make_stream(b"")
        pdf.save(path)
    report = refold_folder(spoilt, NoProgress())
    assert not report.ok
    assert report.findings
