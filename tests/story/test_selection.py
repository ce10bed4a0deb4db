"""The proposed selection: the person's word wins, one of a set, every day and stop covered."""

from __future__ import annotations

import pytest

from wayfold.book.state import Book, PhotoChoice, Pick
from wayfold.photos.sets import PhotoSets
from wayfold.story.choose import choose_entries, judge_photos
from wayfold.story.selection import propose_selection
from wayfold.story.tell import tell_story

BURST = """
a 2025-05-03T10:00:00 Alba
b 2025-05-03T10:00:02 Alba
c 2025-05-03T10:00:04 Alba
d 2025-05-03T11:00:00 Alba
"""
ABC = PhotoSets(alike=(("a", "b", "c"),))


def judge(teller, lines, sets=ABC, **picks):
    trip, photos = teller.read(lines)
    book = Book("T", choices={n: PhotoChoice(pick=p) for n, p in picks.items()})
    return {v.photo: v for v in judge_photos(trip, book, photos, sets)}


def taken(verdicts):
    return {n for n, v in verdicts.items() if v.taken}


def test_one_of_a_set_with_its_runner_up_and_reasons(teller):
    verdicts = judge(teller, BURST)
    assert taken(verdicts) == {"c", "d"}
    assert verdicts["c"].runner_up == "b"
    assert verdicts["a"].instead == verdicts["b"].instead == "c"
    assert all(v.reason for v in verdicts.values())


@pytest.mark.parametrize(
    ("row", "best"),
    [
        ("a 2025-05-03T10:00:00 Alba 1", "a"),
        ("a 2025-05-03T10:00:00 Alba 0 7000x4000", "a"),
        ("a 2025-05-03T10:00:00 Alba 0 5000x4000", "c"),
    ],
    ids=["a star", "more pixels", "fewer"],
)
def test_stars_come_first_then_pixels(teller, row, best):
    lines = BURST.replace("a 2025-05-03T10:00:00 Alba", row)
    assert taken(judge(teller, lines)) == {best, "d"}


def test_the_persons_picks_always_win(teller):
    verdicts = judge(teller, BURST, a=Pick.TAKE, b=Pick.TAKE)
    assert taken(verdicts) == {"a", "b", "d"}
    assert verdicts["c"].instead == "a"
    verdicts = judge(teller, BURST, c=Pick.LEAVE)
    assert taken(verdicts) == {"b", "d"}
    assert verdicts["c"].by_person
    assert taken(judge(teller, BURST, a=Pick.LEAVE, b=Pick.LEAVE, c=Pick.LEAVE)) == {"d"}


def test_four_stars_keep_a_picture_beside_its_like_but_not_a_second_file_of_the_shot(teller):
    lines = BURST.replace("Alba", "Alba 4")
    assert taken(judge(teller, lines)) == {"a", "b", "c", "d"}
    one_shot = PhotoSets(shots=(("a", "b"),), alike=(("a", "b", "c"),))
    assert len(taken(judge(teller, lines, one_shot)) & {"a", "b"}) == 1


def test_what_is_left_of_a_set_is_told_and_stands_in_no_block(teller):
    trip, photos = teller.read(BURST)
    entries, findings = choose_entries(trip, Book("T"), photos, ABC)
    assert [e.photo for e in entries] == ["c", "d"]
    assert [f.rule for f in findings] == ["story.alike"]
    story = tell_story(trip, Book("T"), photos, {}, sets=ABC)
    assert {p for block in story.blocks for p in block.photos} == {"c", "d"}


def days(counts, place="Alba"):
    return "\n".join(
        f"d{day:02}n{i:03} 2025-05-{day + 1:02}T{8 + i // 60:02}:{i % 60:02} {place}"
        for day, count in enumerate(counts)
        for i in range(count)
    )


def propose(teller, lines, room, book=None):
    trip, photos = teller.read(lines)
    book = book or Book("T")
    entries, _ = choose_entries(trip, book, photos)
    return propose_selection(entries, book, photos, PhotoSets(), room)


def test_no_day_goes_without_a_picture_while_there_is_room(teller):
    counts = [200, 1, 2, 100, 1, 50]
    verdicts = propose(teller, days(counts), 20)
    per_day = [sum(v.taken for v in verdicts if v.photo.startswith(f"d{d:02}")) for d in range(6)]
    assert sum(per_day) == 20
    assert min(per_day) >= 1
    assert per_day[0] > per_day[3] > per_day[5] > 2


def test_shares_go_by_square_roots(teller):
    # By hand: 100 and 25 pictures are as 10 to 5 in square roots, so of 30 they get 20 and 10.
    verdicts = propose(teller, days([100, 25]), 30)
    assert sum(v.taken for v in verdicts if v.photo.startswith("d00")) == 20


def test_more_room_never_takes_a_days_share_away(teller):
    lines = days([60, 7, 30])
    before = [0, 0, 0]
    for room in range(1, 98):
        verdicts = propose(teller, lines, room)
        now = [sum(v.taken for v in verdicts if v.photo.startswith(f"d{d:02}")) for d in range(3)]
        assert sum(now) == min(room, 97)
        assert all(a <= b for a, b in zip(before, now, strict=True))
        before = now


def test_days_that_the_person_filled_leave_room_to_others(teller):
    lines = days([50, 50])
    picks = {f"d00n{i:03}": PhotoChoice(pick=Pick.TAKE) for i in range(10)}
    verdicts = propose(teller, lines, 10, Book("T", choices=picks))
    chosen = [v.photo for v in verdicts if v.taken and not v.by_person]
    assert sum(p.startswith("d01") for p in chosen) == 10
