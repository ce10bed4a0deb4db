"""Which pictures make a set: worked by hand, from likenesses whose bits are set to order."""

from __future__ import annotations

from datetime import datetime, timedelta

from hypothesis import given
from hypothesis import strategies as st

from wayfold.photos.likeness import count_unlike
from wayfold.photos.model import Camera, CaptureTime, Photo, SizePx
from wayfold.photos.sets import REPEAT_UNLIKE, find_sets

START = datetime(2025, 5, 3, 10)


def shot(name, seconds, *, camera="A", size=(6000, 4000), path=None, kind="JPEG"):
    return Photo(
        name,
        name,
        path or f"/p/{name}.jpg",
        SizePx(*size),
        file_format=kind,
        taken=None if seconds is None else CaptureTime(START + timedelta(seconds=seconds)),
        camera=Camera(model=camera),
    )


def likeness(bits):
    """So many of the lowest bits are set: two of these differ by the difference."""
    return f"{(1 << bits) - 1:016x}"


def sets(rows, **options):
    """Rows of (name, seconds, bits)."""
    photos = [shot(n, s, **options) for n, s, _ in rows]
    return find_sets(photos, {n: likeness(b) for n, _, b in rows})


def test_a_burst_may_differ_more_than_a_later_repeat():
    assert sets([("a", 0, 0), ("b", 10, 16)]).alike == (("a", "b"),)
    assert sets([("a", 0, 0), ("b", 10, 17)]).alike == ()
    assert sets([("a", 0, 0), ("b", 11, 13)]).alike == ()
    assert sets([("a", 0, 0), ("b", 600, 12)]).alike == (("a", "b"),)
    assert sets([("a", 0, 0), ("b", 601, 0)]).alike == ()


def test_a_slow_turn_is_not_one_set_from_end_to_end():
    rows = [(f"p{i}", 60 * i, 8 * i) for i in range(8)]
    for group in sets(rows).alike:
        assert len(group) == 2
    # It is one scene going on, though: one of each set, each like the next.
    assert len(sets(rows).series) == 1


def test_another_camera_or_shape_is_another_picture():
    photos = [shot("a", 0), shot("b", 2, camera="B"), shot("c", 4, size=(4000, 6000))]
    assert find_sets(photos, dict.fromkeys("abc", likeness(0))).alike == ()


def test_raw_and_jpeg_of_one_shot_need_no_likeness():
    raw = shot("r", 0, path="/p/IMG_1.NEF", kind="camera raw")
    photos = [raw, shot("j", 0, path="/p/IMG_1.jpg"), shot("k", 0, path="/p/IMG_12.jpg")]
    found = find_sets(photos, {})
    assert found.shots == found.alike == (("r", "j"),)


def test_an_edited_copy_is_of_the_shot_whatever_its_cut():
    photos = [
        shot("a", 0, path="/p/IMG_1.jpg"),
        shot("b", 0, path="/p/IMG_1-edited.jpg", size=(3000, 3000)),
        shot("c", 0, path="/p/IMG_1_2.jpg"),
        shot("d", 1, path="/p/IMG_1 (2).jpg"),
        shot("e", 0, path="/p/IMG_12.jpg"),
    ]
    assert find_sets(photos, {}).shots == (("b", "a"),)


def test_scans_of_one_date_and_number_are_told_by_likeness():
    photos = [shot("a", 0, path="/p/1/scan 1.jpg"), shot("b", 0, path="/p/2/scan 1.jpg")]
    assert find_sets(photos, {}).alike == ()
    assert find_sets(photos, {"a": likeness(0), "b": likeness(30)}).alike == ()
    assert find_sets(photos, {"a": likeness(0), "b": likeness(3)}).alike == (("a", "b"),)


def test_panoramas_are_twice_as_wide_as_high():
    photos = [shot("a", 0, size=(8000, 4000)), shot("b", 0, size=(7999, 4000)), shot("c", None)]
    assert find_sets(photos, {}).panoramas == ("a",)


@given(st.lists(st.tuples(st.integers(0, 1500), st.integers(0, 2**64 - 1)), max_size=14))
def test_every_two_of_a_set_are_alike_and_none_is_in_two(rows):
    photos = [shot(f"p{i:02}", seconds) for i, (seconds, _) in enumerate(rows)]
    prints = {f"p{i:02}": f"{bits & 0x00FF00FF:016x}" for i, (_, bits) in enumerate(rows)}
    when = {p.id: p.taken.local for p in photos}
    found = find_sets(photos, prints)
    for group in found.alike:
        for one in group:
            for other in group:
                apart = abs((when[one] - when[other]).total_seconds())
                limit = 16 if apart <= 10 else REPEAT_UNLIKE
                assert apart <= 600
                assert count_unlike(prints[one], prints[other]) <= limit
    names = [name for group in found.alike for name in group]
    assert len(names) == len(set(names))
    assert find_sets(photos[::-1], prints) == found
