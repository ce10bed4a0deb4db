"""The decisions of the demo's book: every picture decided, every kept one credited."""

from __future__ import annotations

from pathlib import Path
from types import SimpleNamespace

import pytest

from wayfold.base.progress import NoProgress
from wayfold.book.state import Pick
from wayfold.demo.compose import compose_demo_book
from wayfold.demo.copies import write_copies
from wayfold.demo.model import DemoBook, Gathered


@pytest.fixture(scope="module")
def made(
    tmp_path_factory: pytest.TempPathFactory, stand_ins: SimpleNamespace
) -> tuple[Path, Gathered, DemoBook]:
    folder = tmp_path_factory.mktemp("compose")
    gathered = stand_ins.gather(folder / "sources")
    copies = write_copies(folder, gathered, NoProgress())
    return folder, gathered, compose_demo_book(gathered, copies)


def test_every_picture_is_decided(made: tuple[Path, Gathered, DemoBook]) -> None:
    folder, gathered, book = made
    shots = {s.caption: s for c in gathered.journey.chapters for s in c.shots}
    assert len(book.choices) == len(shots)
    assert all((folder / path).is_file() for path in book.choices)
    picks = [choice.pick for choice in book.choices.values()]
    assert 6 <= picks.count(Pick.HERO) <= 11
    assert picks.count(Pick.LEAVE) == sum(not s.kept for s in shots.values())
    assert Pick.OPEN not in picks


def test_a_caption_is_decided_only_where_the_file_has_none(
    made: tuple[Path, Gathered, DemoBook],
) -> None:
    _, gathered, book = made
    decided = {c.caption for c in book.choices.values() if c.caption is not None}
    shots = [s for c in gathered.journey.chapters for s in c.shots]
    assert decided == {s.caption for s in shots if s.caption_in == "none"}


def test_the_colophon_credits_every_kept_picture(made: tuple[Path, Gathered, DemoBook]) -> None:
    _, gathered, book = made
    colophon = book.texts["colophon"]
    for shot in (s for c in gathered.journey.chapters for s in c.shots):
        credit = shot.credit
        source = f"({credit.licence}, {credit.package})"
        lines = [x for x in colophon.splitlines() if x.startswith(f"- {credit.author}: ")]
        named = any(f"*{credit.title}*" in x and x.endswith(source) for x in lines)
        assert named == shot.kept
    assert "{" not in colophon
    assert "taken elsewhere than the story says" in colophon


def test_chapters_have_their_texts(made: tuple[Path, Gathered, DemoBook]) -> None:
    _, _, book = made
    for chapter in book.chapters:
        assert chapter.text is not None
        assert book.texts[chapter.text].strip()
    assert {"foreword", "closing", "colophon"} <= set(book.texts)
    assert book.chapters[0].place == "Camaleño"
    assert book.notices == ()
