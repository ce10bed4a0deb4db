"""Heroes, pictures alone and groups in one chapter."""

from datetime import datetime, timedelta

import pytest

from wayfold.story.entries import Entry, Role
from wayfold.story.pictures import make_picture_blocks

ROLES = {"H": Role.HERO, "S": Role.ALONE, "P": Role.PANORAMA, ".": Role.TOGETHER}


def lay(days: str) -> list[str]:
    """Roles by the hour, days parted by blanks, become "kind photos" a block."""
    made = [
        Entry(f"{day}{chr(97 + hour)}", datetime(2025, 5, day, 8 + hour), 0, 1.5, role=ROLES[role])
        for day, roles in enumerate(days.split(), 1)
        for hour, role in enumerate(roles)
    ]
    return [
        f"{block.kind.value} {' '.join(block.photos)}" for block in make_picture_blocks(made, 0)
    ]


@pytest.mark.parametrize(
    ("days", "expected"),
    [
        ("...", ["group 1a 1b 1c"]),
        ("..H..", ["group 1a 1b", "hero 1c", "group 1d 1e"]),
        (".H..", ["hero 1b", "group 1a 1c 1d"]),
        ("..H.", ["group 1a 1b 1d", "hero 1c"]),
        (".S.", ["single 1b", "group 1a 1c"]),
        ("H.H", ["hero 1a", "single 1b", "hero 1c"]),
        ("H.H..", ["hero 1a", "single 1b", "hero 1c", "group 1d 1e"]),
        ("..H.H", ["group 1a 1b", "hero 1c", "single 1d", "hero 1e"]),
        ("S.S", ["single 1a", "single 1b", "single 1c"]),
        (". ..", ["group 1a 2a 2b"]),
        (". . .", ["group 1a 2a 3a"]),
        (".H ..", ["hero 1b", "group 1a 2a 2b"]),
        (". H..", ["group 1a 2b 2c", "hero 2a"]),
        ("..PP", ["group 1a 1b", "group 1c 1d"]),
        ("P..", ["single 1a", "group 1b 1c"]),
        ("PPPP", ["group 1a 1b 1c", "single 1d"]),
        ("P P", ["single 1a", "single 2a"]),
        # One left alone steps over a panorama, not over a page of them.
        (".P..", ["single 1b", "group 1a 1c 1d"]),
        (".PP..", ["single 1a", "group 1b 1c", "group 1d 1e"]),
        ("..HH..", ["group 1a 1b", "hero 1c", "hero 1d", "group 1e 1f"]),
    ],
)
def test_the_order_of_blocks(days, expected):
    assert lay(days) == expected


def test_ids_name_what_is_in_the_block():
    made = [
        Entry("x", datetime(2025, 5, 3, 8), 0, 1.5, rating=5, role=Role.HERO),
        Entry("y", datetime(2025, 5, 3, 9), 0, 1.5, role=Role.ALONE),
        Entry("z", datetime(2025, 5, 3, 10), 0, 1.5, role=Role.HERO),
    ]
    blocks = make_picture_blocks(made, 7)
    assert [b.id for b in blocks] == ["hero:x", "single:y", "hero:z"]
    assert [b.importance for b in blocks] == [5, 0, 4]
    assert {b.chapter for b in blocks} == {7}


def test_a_picture_left_alone_joins_none_more_than_two_days_away():
    def lay_at(*days: float) -> list[int]:
        start = datetime(2025, 5, 3, 8)
        made = [Entry(str(i), start + timedelta(days=d), 0, 1.5) for i, d in enumerate(days)]
        return [len(block.photos) for block in make_picture_blocks(made, 0)]

    assert lay_at(0, 2, 2.01) == [3]
    assert lay_at(0, 2.01, 2.02) == [1, 2]


def test_a_run_that_is_divided_does_not_carry_a_later_day_before_an_earlier_hero():
    """Found by Hypothesis: three, a hero, then one picture on each of the next two days."""
    days = [block.split()[1][0] for block in lay("...H . .")]
    assert days == sorted(days)


@pytest.mark.parametrize("roles", ["...H . .", "..H. . .", ".H... . .", "....H . . .", ". ..H . ."])
def test_days_stay_in_order_however_strays_join(roles):
    days = [block.split()[1][0] for block in lay(roles)]
    assert days == sorted(days)


def make_scene(scenes: str) -> list[Entry]:
    """Pictures an hour apart, of the scene their digit names; "." is of none."""
    return [
        Entry(
            chr(97 + i),
            datetime(2025, 5, 3, 8) + timedelta(hours=i),
            0,
            1.5,
            scene=None if mark == "." else int(mark),
        )
        for i, mark in enumerate(scenes)
    ]


@pytest.mark.parametrize(
    ("scenes", "expected"),
    [
        ("1111", [("abcd", True)]),
        ("..111..", [("ab", False), ("cde", True), ("fg", False)]),
        # Two are no strip, and nobody is left alone for one's sake.
        ("11..", [("abcd", False)]),
        (".111", [("abcd", False)]),
        ("111222", [("abc", True), ("def", True)]),
    ],
)
def test_a_scene_makes_a_strip(scenes, expected):
    blocks = make_picture_blocks(make_scene(scenes), 0)
    assert [("".join(b.photos), b.scene) for b in blocks] == expected
    assert all(len(b.alternatives) == 1 for b in blocks if b.scene)
