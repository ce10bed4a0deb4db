"""Facts and verdicts of the photographs, as the room for them shows."""

from dataclasses import replace
from datetime import datetime, timedelta
from pathlib import Path

import pytest

from tests.desk_book import A_DAY, DAYS, START, copy_book, open_book, paint
from wayfold.app.choosing import choose_photos
from wayfold.app.rooms.pictures import UNKNOWN, find_eye, list_facts, name_cameras
from wayfold.app.rooms.pictures_order import order_together
from wayfold.app.rooms.pictures_verdicts import decide, find_pages, list_verdicts
from wayfold.app.session import Session
from wayfold.base.errors import NotFoundError
from wayfold.base.geometry import Rect
from wayfold.base.progress import NoProgress
from wayfold.book.state import Pick
from wayfold.photos.look import Face, Look, Salience
from wayfold.photos.model import Camera


def test_every_photograph_stands_in_every_column(session: Session) -> None:
    facts = list_facts(session)
    lists = [v for name in facts.__slots__ if isinstance(v := getattr(facts, name), list)]
    assert {len(column) for column in lists} == {DAYS * A_DAY}
    assert sorted(facts.id) == sorted(session.results.photos)
    assert list_facts(session) is facts


def test_days_places_and_cameras_are_those_of_the_journey(session: Session) -> None:
    # As tests/desk_book.py paints it: eight pictures a day, Lisbon for two days, then Porto.
    facts = list_facts(session)
    assert [facts.day.count(day) for day in range(DAYS)] == [A_DAY] * DAYS
    assert [d.date for d in facts.days[:DAYS]] == [
        (START + timedelta(days=day)).date() for day in range(DAYS)
    ]
    assert facts.cameras == ("Halden H7", "Kestle Pocket 3")
    assert [facts.camera.count(n) for n in (0, 1)] == [DAYS * A_DAY // 2] * 2
    assert {facts.places[p] for p in facts.place if p != UNKNOWN} == {"Lisbon", "Porto"}
    assert facts.time[0] == f"{START:%H:%M}"


def test_the_largest_print_is_told_in_millimetres(session: Session) -> None:
    facts = list_facts(session)
    sharp = [i for i, share in enumerate(facts.sharp) if share == 100]
    for i in sharp:
        if facts.limits[facts.limit[i]] == "pixels":
            # docs/print-sizes.md: a good print has 240 pixels an inch.
            assert facts.largest_mm[i] == int(facts.width_px[i] / 240 * 25.4)


def test_the_eye_goes_to_the_largest_face_else_to_what_is_salient() -> None:
    shares = tuple(0.4 if cell == 7 else 0.05 for cell in range(12))
    look = Look((), Salience(4, 3, shares), (), 1.4, 0.5, 2000, 0.0, 50.0)
    # Cell 7 of four columns is the last of the second row.
    assert find_eye(look) == (88, 50)
    small, large = Face(Rect(0.1, 0.1, 0.1, 0.1), 0.99), Face(Rect(0.6, 0.2, 0.2, 0.3), 0.8)
    assert find_eye(replace(look, faces=(small, large))) == (70, 35)
    assert find_eye(None) == (50, 50)


def test_pictures_nearly_alike_stand_together() -> None:
    day_of = dict.fromkeys("abcdef", 0) | {"g": 1}
    alike = {"b": 0, "e": 0}
    scene = {"a": 0, "d": 0}
    assert order_together("abcdefgh", day_of, scene, alike) == list("adbecfgh")
    # A set that goes on after midnight is shown on either day.
    assert order_together("abg", day_of, {}, {"a": 0, "g": 0}) == list("abg")


def test_two_bodies_of_one_model_have_two_names() -> None:
    one, two = Camera("Halden", "Halden H7", "70421985"), Camera("Halden", "Halden H7", "70420001")
    other = Camera("Kestle", "Pocket 3", "1")
    named = name_cameras([one, two, other, None, one])
    assert named == {one: "Halden H7 …1985", two: "Halden H7 …0001", other: "Kestle Pocket 3"}


def test_verdicts_are_those_of_the_command_line(session: Session) -> None:
    facts, verdicts = list_facts(session), list_verdicts(session)
    assert verdicts.facts == facts.key
    choosing = choose_photos(session.folder.root, NoProgress())
    told = {v.photo: v for v in choosing.verdicts}
    for i, photo in enumerate(facts.id):
        assert verdicts.taken[i] == str(int(told[photo].taken))
        assert verdicts.reasons[verdicts.reason[i]] == told[photo].reason
    pages = find_pages(session.results.layout)
    assert verdicts.page == [pages.get(photo, 0) for photo in facts.id]
    assert any(verdicts.page)


def test_several_decisions_are_one_change(session: Session) -> None:
    photos = list_facts(session).id
    before = list_verdicts(session)
    decide(session, [(photos[0], "hero"), (photos[1], "leave"), (photos[2], "take")])
    after = list_verdicts(session)
    assert after.picks[:4] == "hlto"
    assert after.taken[:3] == "101"
    assert after.key != before.key
    assert after.facts == before.facts
    assert len([e for e in session.changes() if e.kind.value == "edit"]) == 1
    session.undo()
    assert list_verdicts(session) == before


def test_nothing_is_changed_where_one_photograph_is_not_there(session: Session) -> None:
    photos = list_facts(session).id
    with pytest.raises(NotFoundError):
        decide(session, [(photos[0], "hero"), ("gone", "leave")])
    assert session.results.book.choice(photos[0]).pick is Pick.OPEN
    decide(session, [])
    assert session.state().undo is None


def test_a_burst_is_one_set_of_which_one_is_taken(atlantic: Path, tmp_path: Path) -> None:
    root = copy_book(atlantic, tmp_path / "atlantic")
    for number in range(3):
        # The same painting three times within two seconds, each a file of its own.
        taken = datetime(2025, 5, 13, 18, 0, number)
        paint(root / "photographs" / "camera" / f"B{number}.jpg", 40, taken, None)
    session = open_book(root).session
    facts, verdicts = list_facts(session), list_verdicts(session)
    burst = [i for i, name in enumerate(facts.name) if name.startswith("B")]
    assert burst == list(range(burst[0], burst[0] + 3))
    assert len({facts.alike[i] for i in burst}) == 1
    assert facts.alike[burst[0]] != UNKNOWN
    taken = [i for i in burst if verdicts.taken[i] == "1"]
    assert len(taken) == 1
    assert verdicts.runner_up[taken[0]] in burst
    assert {verdicts.instead[i] for i in burst if i not in taken} == set(taken)
    session.close()
