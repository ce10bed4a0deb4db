"""Which pictures are taken, and which get two pages or one to themselves."""

from itertools import pairwise

import pytest

from wayfold.base.geometry import Rect, Size
from wayfold.book.state import Book, PhotoChoice, Pick
from wayfold.story.choose import choose_entries
from wayfold.story.entries import Role, spread_evenly
from wayfold.story.selection import BEARABLE


def choose(teller, lines, book=None):
    trip, photos = teller.read(lines)
    return choose_entries(trip, book or Book("T"), photos)


def role_of(teller, line, book=None):
    entries, findings = choose(teller, line, book)
    return entries[0].role, {f.rule for f in findings}


HERO = {"a": PhotoChoice(pick=Pick.HERO)}


@pytest.mark.parametrize(
    ("size", "role", "rules"),
    [
        ("6000x4000", Role.HERO, set()),
        # 420 mm are 16.54 inches of 25.4 mm (ISO 31): 150 an inch are 2480.3 pixels.
        ("2481x1654", Role.HERO, set()),
        ("2480x1654", Role.ALONE, {"story.hero"}),
        ("5000x4000", Role.HERO, set()),
        ("4999x4000", Role.ALONE, set()),
        ("4000x6000", Role.ALONE, set()),
    ],
    ids=["ample", "just enough", "a pixel short", "5:4", "narrower", "upright"],
)
def test_heroes_need_width_and_pixels(teller, size, role, rules):
    line = f"a 2025-05-03T10:00 Alba 3 {size}"
    assert role_of(teller, line, Book("T", choices=HERO)) == (role, rules)


def test_a_crop_counts(teller):
    choices = {"a": PhotoChoice(pick=Pick.HERO, crop=Rect(0.0, 0.0, 0.4, 0.4))}
    role, rules = role_of(teller, "a 2025-05-03T10:00 Alba", Book("T", choices=choices))
    assert (role, rules) == (Role.ALONE, {"story.hero"})
    choices = {"a": PhotoChoice(pick=Pick.HERO, crop=Rect(0.0, 0.25, 1.0, 0.5))}
    line = "a 2025-05-03T10:00 Alba 3 4000x6000"
    assert role_of(teller, line, Book("T", choices=choices)) == (Role.HERO, set())


def test_two_landscape_pages_want_a_wider_picture(teller):
    book = Book("T", trim=Size(297.0, 210.0), choices=HERO)
    # Two A4 pages side by side are 594 x 210 mm; three fifths of that aspect are 1.70.
    assert role_of(teller, "a 2025-05-03T10:00 Alba 3 6000x4000", book)[0] is Role.ALONE
    assert role_of(teller, "a 2025-05-03T10:00 Alba 3 6400x3600", book)[0] is Role.HERO


@pytest.mark.parametrize(
    ("rating", "size", "role"),
    [
        (5, "6000x4000", Role.HERO),
        (4, "6000x4000", Role.TOGETHER),
        (4, "4000x6000", Role.ALONE),
        (3, "4000x6000", Role.TOGETHER),
        (1, "8000x4000", Role.PANORAMA),
    ],
    ids=["five wide", "four wide", "four upright", "three upright", "panorama"],
)
def test_ratings_and_shapes(teller, rating, size, role):
    assert role_of(teller, f"a 2025-05-03T10:00 Alba {rating} {size}")[0] is role


def test_alone_gets_its_page(teller):
    book = Book("T", choices={"a": PhotoChoice(alone=True)})
    assert role_of(teller, "a 2025-05-03T10:00 Alba 5", book)[0] is Role.ALONE


def rated(count: int, rating: int) -> str:
    return "\n".join(f"p{i:02} 2025-05-03T10:{i:02} Alba {rating}" for i in range(count))


def test_ratings_alone_lift_one_in_eight(teller):
    entries, _ = choose(teller, rated(40, 5))
    heroes = [i for i, e in enumerate(entries) if e.role is Role.HERO]
    assert heroes == [4, 12, 20, 28, 36]


def test_where_the_person_named_heroes_ratings_name_none(teller):
    book = Book("T", choices={"p07": PhotoChoice(pick=Pick.HERO)})
    entries, _ = choose(teller, rated(40, 5), book)
    assert [e.photo for e in entries if e.role is Role.HERO] == ["p07"]


def test_what_is_taken_is_no_hero_by_rating(teller):
    book = Book("T", choices={"a": PhotoChoice(pick=Pick.TAKE)})
    assert role_of(teller, "a 2025-05-03T10:00 Alba 5", book)[0] is Role.TOGETHER


def many(count: int) -> str:
    """Every tenth rated 4, one of them 5, the rest not at all."""
    return "\n".join(
        f"p{i:04} 2025-05-{1 + i // 1440:02}T{i // 60 % 24:02}:{i % 60:02} Alba "
        + ("5" if i == 500 else "4" if i % 10 == 0 else "0")
        for i in range(count)
    )


def test_of_too_many_the_best_and_the_rest_evenly(teller):
    book = Book("T", choices={f"p{i:04}": PhotoChoice(pick=Pick.TAKE) for i in range(1, 6)})
    entries, findings = choose(teller, many(2000), book)
    taken = {e.photo for e in entries}
    assert len(entries) == BEARABLE + 5
    assert {f"p{i:04}" for i in range(0, 2000, 10)} <= taken
    assert {f"p{i:04}" for i in range(1, 6)} <= taken
    plain = sorted(int(e.photo[1:]) for e in entries if e.rating == 0)[5:]
    assert max(b - a for a, b in pairwise(plain)) <= 2 * 2000 / 200
    (finding,) = findings
    assert finding.rule == "story.many"
    assert f"{2000 - 5:,}" in finding.message
    assert finding.remedy


def test_just_bearable_is_taken_whole(teller):
    entries, findings = choose(teller, many(BEARABLE))
    assert len(entries) == BEARABLE
    assert findings == ()


@pytest.mark.parametrize(
    ("count", "expected"),
    [(0, []), (1, [5]), (2, [2, 7]), (5, [1, 3, 5, 7, 9]), (12, list(range(10)))],
)
def test_even_spread(count, expected):
    assert spread_evenly(range(10), count) == expected


def test_events_are_told_by_all_pictures(teller):
    """Two hours between those taken are one event where others were taken all the while."""

    def lines(minutes):
        return "\n".join(f"p{m} 2025-05-03T{8 + m // 60:02}:{m % 60:02} Alba" for m in minutes)

    walk = [*range(40), *range(40, 160, 5), *range(160, 200)]
    rest = [m for m in walk if not 40 <= m < 160]
    left = {f"p{m}": PhotoChoice(pick=Pick.LEAVE) for m in walk if m not in rest}
    entries, _ = choose(teller, lines(walk), Book("T", choices=left))
    assert [e.photo for e in entries] == [f"p{m}" for m in rest]
    assert len({e.event for e in entries}) == 1
    parted, _ = choose(teller, lines(rest))
    assert [e.event for e in parted] == [0] * 40 + [1] * 40
    undated, _ = choose(teller, "a 2025-05-03T08:00 Alba\nb ? -")
    assert [e.event for e in undated] == [0, None]
