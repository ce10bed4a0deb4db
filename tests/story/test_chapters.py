"""Chapters by place, by what the person says, and by days."""

from datetime import date

import pytest

from wayfold.book.state import Book, ChapterChoice


def stay(place: str, day: int, pictures: int, hour: int = 10) -> str:
    return "\n".join(
        f"{place[0]}{day:02}{hour}{i} 2025-05-{day:02}T{hour}:{i:02} {place}"
        for i in range(pictures)
    )


def journey(*stays: str) -> str:
    return "\n".join(stays)


def titles(story):
    return [c.title for c in story.chapters]


def count_pictures(story):
    counts = [0] * len(story.chapters)
    for block in story.blocks:
        if block.chapter is not None:
            counts[block.chapter] += len(block.photos)
    return counts


def test_a_chapter_a_place_with_its_days(teller):
    story = teller.tell(journey(stay("Alba", 3, 4), stay("Alba", 4, 3), stay("Gamma", 6, 5)))
    first, second = story.chapters
    assert (first.title, first.first, first.last) == ("Alba", date(2025, 5, 3), date(2025, 5, 4))
    assert (second.title, second.country_name) == ("Gamma", "Italy")
    assert second.accent is None
    assert count_pictures(story) == [7, 5]


def test_a_place_seen_again_is_a_second_chapter(teller):
    story = teller.tell(journey(stay("Alba", 3, 3), stay("Gamma", 4, 3), stay("Alba", 6, 3)))
    assert titles(story) == ["Alba", "Gamma", "Alba"]


@pytest.mark.parametrize(("hour", "pictures"), [(20, [6, 4]), (23, [4, 6])])
def test_a_tiny_stop_joins_the_nearer_neighbour(teller, hour, pictures):
    # Alba until 10:03, Delta from 10:00 the next day: the middle between them is 22:01.
    lines = journey(stay("Alba", 3, 4), stay("Gamma", 3, 2, hour), stay("Delta", 4, 4))
    story = teller.tell(lines)
    assert titles(story) == ["Alba", "Delta"]
    assert count_pictures(story) == pictures


def test_places_with_a_picture_each_become_one_chapter(teller):
    story = teller.tell(journey(stay("Alba", 3, 1), stay("Gamma", 4, 1), stay("Delta", 5, 1)))
    assert count_pictures(story) == [3]


def test_a_place_spoken_of_stays_a_chapter_however_small(teller):
    book = Book("T", chapters=(ChapterChoice("Gamma", title="The Pass"),))
    story = teller.tell(journey(stay("Alba", 3, 4), stay("Gamma", 4, 1), stay("Delta", 5, 4)), book)
    assert titles(story) == ["Alba", "The Pass", "Delta"]


def test_the_surroundings_of_a_place_spoken_of_belong_to_it(teller):
    # Beta lies 22 km from Alba, Gamma 89 km from Beta.
    lines = journey(stay("Beta", 3, 6), stay("Alba", 4, 3), stay("Gamma", 5, 4))
    assert titles(teller.tell(lines)) == ["Beta", "Alba", "Gamma"]
    book = Book("T", chapters=(ChapterChoice("Alba", title="Hills"), ChapterChoice("Gamma")))
    story = teller.tell(lines, book)
    assert titles(story) == ["Hills", "Gamma"]
    assert count_pictures(story) == [9, 4]


def test_what_the_person_says_of_a_chapter(teller):
    choice = ChapterChoice("Alba", title="Up", subtitle="By the stairs", accent="#123456")
    story = teller.tell(stay("Alba", 3, 4), Book("T", chapters=(choice,)))
    (chapter,) = story.chapters
    assert (chapter.title, chapter.subtitle, chapter.accent) == ("Up", "By the stairs", "#123456")


def test_choices_for_one_place_go_to_its_visits_in_turn(teller):
    lines = journey(stay("Alba", 3, 3), stay("Gamma", 4, 3), stay("Alba", 6, 3))
    once = (ChapterChoice("Alba", title="Going", accent="#123456"),)
    story = teller.tell(lines, Book("T", chapters=once))
    assert titles(story) == ["Going", "Gamma", "Alba"]
    assert [c.accent for c in story.chapters] == ["#123456", None, "#123456"]
    twice = (*once, ChapterChoice("Alba", title="Coming"))
    assert titles(teller.tell(lines, Book("T", chapters=twice))) == ["Going", "Gamma", "Coming"]


def test_a_choice_for_a_place_nobody_saw_is_pointed_out(teller):
    story = teller.tell(stay("Alba", 3, 4), Book("T", chapters=(ChapterChoice("Albba"),)))
    (finding,) = story.findings
    assert finding.rule == "story.chapter"
    assert "Albba" in finding.where
    assert "Alba" in finding.remedy


def test_pictures_without_a_place_go_with_the_nearer_in_time(teller):
    lines = journey(
        stay("Alba", 3, 3),
        "x 2025-05-03T22:00 -",
        "y 2025-05-05T03:00 -",
        stay("Gamma", 5, 3),
    )
    story = teller.tell(lines)
    chapter_of = {p: b.chapter for b in story.blocks for p in b.photos}
    assert (chapter_of["x"], chapter_of["y"]) == (0, 1)


def test_without_places_chapters_go_by_days(teller):
    lines = "\n".join(
        f"p{day:02}{i} 2025-05-{day:02}T10:{i:02} -" for day in range(1, 9) for i in range(6)
    )
    story = teller.tell(lines)
    # 48 pictures at about 16 a chapter: three chapters of whole days.
    assert titles(story) == ["Days 1–3", "Days 4–5", "Days 6–8"]
    assert count_pictures(story) == [18, 12, 18]


@pytest.mark.parametrize(
    ("language", "title"),
    [("en", "Day 1"), ("de-AT", "Tag 1"), ("fr", "Jour 1"), ("tlh", "Day 1")],
)
def test_a_day_is_named_in_the_books_language(teller, language, title):
    story = teller.tell("a 2025-05-03T10:00 -", Book("T", language=language))
    assert titles(story) == [title]


def test_undated_pictures_come_last_under_a_neutral_name(teller):
    lines = journey(stay("Alba", 3, 4), "u ? -", "v ? -")
    story = teller.tell(lines)
    assert titles(story) == ["Alba", "More Pictures"]
    assert story.chapters[-1].first is None
    assert count_pictures(story) == [4, 2]


def test_nothing_dated_at_all(teller):
    story = teller.tell("a ? -\n b ? -\n c ? -")
    assert titles(story) == ["Pictures"]
    assert [b.id for b in story.blocks if b.photos] == ["group:a"]
    assert all(b.day is None for b in story.blocks)
