"""Whatever the pictures, marks and words: nothing is lost, doubled or out of order."""

from datetime import date, datetime, timedelta
from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from wayfold.base.world import LonLat
from wayfold.book.state import Book, ChapterChoice, PhotoChoice, Pick
from wayfold.photos.model import CaptureTime, Photo, SizePx
from wayfold.story.model import BlockKind, Start
from wayfold.story.tell import tell_story
from wayfold.trip.build import build_trip
from wayfold.trip.gazetteer import Gazetteer, Town

TOWNS = [
    Town("Alba", "IT", LonLat(8.0, 45.0), 30_000),
    Town("Beta", "IT", LonLat(8.0, 45.2), 5_000),
    Town("Gamma", "CH", LonLat(8.0, 46.0), 50_000),
]
SMALL_WORLD = Gazetteer(TOWNS)

sizes = st.sampled_from(
    [SizePx(6000, 4000), SizePx(4000, 6000), SizePx(1500, 1000), SizePx(9000, 3000)]
)
times = st.none() | st.integers(0, 5 * 24 * 60)
spots = st.none() | st.sampled_from([t.place for t in TOWNS])
ratings = st.none() | st.integers(1, 5)
choices = st.builds(PhotoChoice, pick=st.sampled_from(Pick), alone=st.booleans())
texts = st.dictionaries(st.sampled_from(["foreword", "closing", "colophon", "alba"]), st.text())


@st.composite
def stories(draw):
    photos = []
    marks = {}
    for number in range(draw(st.integers(0, 24))):
        minute = draw(times)
        taken = minute
        if minute is not None:
            taken = CaptureTime(datetime(2025, 5, 3) + timedelta(minutes=minute))
        photo = Photo(
            f"p{number:02}",
            "",
            f"/{number:02}.jpg",
            draw(sizes),
            taken=taken,
            place=draw(spots),
            rating=draw(ratings),
        )
        photos.append(photo)
        if draw(st.booleans()):
            marks[photo.id] = draw(choices)
    said = draw(st.lists(st.sampled_from(["Alba", "Beta", "Gamma", "Nowhere"]), max_size=3))
    book = Book(
        "T",
        openers_on=draw(st.sampled_from(["recto", "any"])),
        chapters=tuple(ChapterChoice(place, text="alba") for place in said),
        choices=marks,
        texts=draw(texts),
    )
    trip = build_trip(photos, SMALL_WORLD)
    pages = {key: draw(st.integers(1, 3)) for key in book.texts}
    return trip, book, {p.id: p for p in photos}, pages


@given(stories())
def test_every_picture_taken_stands_in_exactly_one_block(given_story):
    trip, book, photos, pages = given_story
    story = tell_story(trip, book, photos, pages)
    shown = sorted(p for b in story.blocks for p in b.photos)
    assert shown == sorted(p for p in photos if book.choice(p).pick is not Pick.LEAVE)


@given(stories())
def test_time_runs_forward(given_story):
    trip, book, photos, pages = given_story
    story = tell_story(trip, book, photos, pages)
    order = {m.photo: i for i, m in enumerate(trip.moments)}
    day = {m.photo: m.local.date() if m.local else date.max for m in trip.moments}
    chapters = [b.chapter for b in story.blocks if b.chapter is not None]
    assert chapters == sorted(chapters)
    spans = []
    for number in range(len(story.chapters)):
        of_chapter = [b for b in story.blocks if b.chapter == number and b.photos]
        inside = [order[p] for b in of_chapter for p in b.photos]
        spans.append((min(inside), max(inside)))
        for block in of_chapter:
            assert [order[p] for p in block.photos] == sorted(order[p] for p in block.photos)
        runs = [b for b in of_chapter if b.kind is BlockKind.GROUP]
        firsts = [order[b.photos[0]] for b in runs]
        assert firsts == sorted(firsts)
        days = [day[b.photos[0]] for b in of_chapter]
        assert days == sorted(days)
        told = [b.day for b in of_chapter if b.day]
        assert told == sorted(set(told))
    for one, other in pairwise(spans):
        assert one[1] < other[0]


@given(stories())
def test_blocks_are_sound(given_story):
    trip, book, photos, pages = given_story
    story = tell_story(trip, book, photos, pages)
    assert len({b.id for b in story.blocks}) == len(story.blocks)
    assert story.blocks[-1].kind is BlockKind.COLOPHON
    for block in story.blocks:
        assert block.alternatives
        assert min(a.cost for a in block.alternatives) == block.alternatives[0].cost == 0
        for way in block.alternatives:
            assert way.pages >= 1
            assert all(0 <= s < way.pages - 1 for s in way.spreads)
            assert not way.spreads or way.start is Start.VERSO
        if block.kind is BlockKind.GROUP:
            assert 2 <= len(block.photos) <= 9
        if block.kind in (BlockKind.HERO, BlockKind.SINGLE):
            assert len(block.photos) == 1
        if block.kind is BlockKind.HERO:
            assert 1 <= block.importance <= 5
        if block.text:
            assert block.kind is BlockKind.COLOPHON or book.texts[block.text].strip()


@given(stories())
def test_heroes_meet_only_where_nothing_lies_between(given_story):
    trip, book, photos, pages = given_story
    story = tell_story(trip, book, photos, pages)
    order = {m.photo: i for i, m in enumerate(trip.moments)}
    between = {order[p] for b in story.blocks for p in b.photos}
    pictures = [b for b in story.blocks if b.photos or b.kind is BlockKind.OPENER]
    for one, other in pairwise(pictures):
        if one.kind is other.kind is BlockKind.HERO:
            first, second = order[one.photos[0]], order[other.photos[0]]
            assert not between & set(range(first + 1, second))


@given(stories())
def test_the_same_input_tells_the_same_story(given_story):
    trip, book, photos, pages = given_story
    backwards = dict(reversed(photos.items()))
    assert tell_story(trip, book, photos, pages) == tell_story(trip, book, backwards, pages)
