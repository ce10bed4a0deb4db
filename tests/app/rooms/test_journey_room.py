"""The journey at the desk: clocks set right, names and ways said, and all of it undone."""

from collections.abc import Callable
from datetime import date, datetime, timedelta

import pytest

from tests.desk_book import CAMERA_LATE, DAYS, START
from wayfold.app.rooms.journey import view_journey
from wayfold.app.rooms.journey_clocks import view_clocks
from wayfold.app.rooms.journey_said import (
    LegWords,
    LodgingWords,
    choose_unit,
    leave_out_event,
    name_stop,
    note_day,
    say_leg,
    say_lodging,
    unsay_lodging,
    write_day_text,
)
from wayfold.app.rooms.journey_set_clock import move_clock, show_clock, write_clock
from wayfold.app.session import Session
from wayfold.base.errors import ConflictError, NotFoundError, UserError

CAMERA = "Halden H7 70421985"
LATE_S = int(CAMERA_LATE.total_seconds())


def find_times(session: Session, body: str) -> list[datetime]:
    """The local times of a camera's pictures, in order."""
    clock = next(c for c in view_clocks(session).clocks if c.body == body)
    at = {p.photo: p.at for day in view_journey(session).days for p in day.pictures}
    return [time for photo in clock.pictures.photo if (time := at[photo]) is not None]


def test_days_have_their_pictures_in_order(session: Session) -> None:
    view = view_journey(session)
    assert [day.date for day in view.days] == [
        START.date() + timedelta(days=n) for n in range(DAYS)
    ]
    assert [day.number for day in view.days] == [1, 2, 3, 4]
    assert sum(len(day.pictures) for day in view.days) == 32
    assert [stay.name for stay in view.stays] == ["Lisbon", "Porto"]


def test_a_clock_moved_by_hand_sets_its_pictures_right(session: Session) -> None:
    before = find_times(session, CAMERA)
    line = move_clock(session, CAMERA, LATE_S, "one")
    # Portugal kept UTC+1 in May 2025 (the tz database).
    assert line == "+01:00, 1h4m slow"
    after = find_times(session, CAMERA)
    assert [a - b for a, b in zip(after, before, strict=True)] == [CAMERA_LATE] * len(before)
    assert after[0] == START + timedelta(minutes=75)
    clock = next(c for c in view_clocks(session).clocks if c.body == CAMERA)
    assert (clock.state, clock.line, clock.late_s) == ("chosen", line, LATE_S)
    session.undo()
    assert find_times(session, CAMERA) == before


def test_moving_again_goes_on_from_the_line_there_is(session: Session) -> None:
    write_clock(session, CAMERA, "Europe/Lisbon, 1h slow")
    assert move_clock(session, CAMERA, 240, "one") == "Europe/Lisbon, 1h4m slow"
    assert move_clock(session, CAMERA, -LATE_S, "one") == "Europe/Lisbon"
    assert move_clock(session, CAMERA, -61, "one") == "Europe/Lisbon, 1m1s fast"


@pytest.mark.parametrize("line", ["late", "+25:00", "local, quick", ""])
def test_a_line_that_says_nothing_is_refused(session: Session, line: str) -> None:
    with pytest.raises(UserError, match=r"of a clock|No zone"):
        write_clock(session, CAMERA, line)
    assert not session.results.book.journey.clocks


def test_a_clock_in_a_picture_sets_the_others_right(session: Session) -> None:
    pictures = next(c for c in view_clocks(session).clocks if c.body == CAMERA).pictures
    third, right = pictures.photo[2], START + timedelta(minutes=75 * 5)
    show_clock(session, third, right + timedelta(seconds=7), "Europe/Lisbon")
    clock = next(c for c in view_clocks(session).clocks if c.body == CAMERA)
    assert [(s.photo, s.name, s.zone) for s in clock.shown] == [
        (third, pictures.name[2], "Europe/Lisbon")
    ]
    assert [(e.kind, e.pieces) for e in clock.evidence] == [("a picture of a clock", 1)]
    show_clock(session, third, None, None)
    assert not next(c for c in view_clocks(session).clocks if c.body == CAMERA).shown


def test_cameras_and_pictures_that_are_not_there_are_named(session: Session) -> None:
    with pytest.raises(NotFoundError, match="Sundby"):
        move_clock(session, "Sundby", 60, "one")
    with pytest.raises(NotFoundError):
        show_clock(session, "nothing", START, None)
    with pytest.raises(UserError, match="more than a year"):
        move_clock(session, CAMERA, 500 * 86_400, "one")


def test_a_stop_is_named_and_its_ways_follow(session: Session) -> None:
    leg = view_journey(session).legs[0]
    say_leg(session, "Lisbon", "Porto", leg.day, LegWords("train", note="Along the sea."))
    name_stop(session, "Porto", 1, "Oporto")
    view = view_journey(session)
    assert [(s.name, s.place) for s in view.stays] == [("Lisbon", "Lisbon"), ("Oporto", "Porto")]
    assert view.legs[0].said == LegWords("train", note="Along the sea.")
    name_stop(session, "Porto", 1, None)
    view = view_journey(session)
    assert view.stays[1].name == "Porto"
    assert view.legs[0].said is not None
    with pytest.raises(NotFoundError):
        name_stop(session, "Porto", 2, "Elsewhere")


def test_a_way_is_said_changed_and_taken_back(session: Session) -> None:
    day = view_journey(session).legs[0].day
    depart, arrive = datetime(2025, 5, 13, 20, 9), datetime(2025, 5, 13, 23, 20)
    say_leg(session, "Lisbon", "Porto", day, LegWords("train", depart, arrive, "IC 529"))
    leg = view_journey(session).legs[0]
    assert (leg.depart, leg.arrive, leg.service, leg.times_by) == (depart, arrive, "IC 529", "you")
    assert leg.lasts.replace("\N{NO-BREAK SPACE}", " ") == "3 h 11 min"
    say_leg(session, "Lisbon", "Porto", leg.day, LegWords("road", distance_km=313.0))
    leg = view_journey(session).legs[0]
    assert (leg.mode, leg.depart, leg.distance_km) == ("road", None, 313.0)
    assert len(session.results.book.journey.legs) == 1
    say_leg(session, "Lisbon", "Porto", leg.day, None)
    assert not view_journey(session).legs[0].said


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (
            LegWords("train", datetime(2025, 5, 13, 20), datetime(2025, 5, 13, 19)),
            "before it departs",
        ),
        (LegWords("flight", datetime(2025, 5, 13, 20), datetime(2025, 5, 17)), "3 days"),
        (LegWords(distance_km=-3.0), "no distance"),
        (LegWords(distance_km=1e9), "no distance"),
    ],
)
def test_ways_that_cannot_be_are_refused(session: Session, words: LegWords, says: str) -> None:
    day = view_journey(session).legs[0].day
    with pytest.raises(UserError, match=says):
        say_leg(session, "Lisbon", "Porto", day, words)
    assert not session.results.book.journey.legs
    with pytest.raises(ConflictError):
        say_leg(session, "Porto", "Lisbon", day, LegWords("train"))


def test_a_lodging_is_said_moved_and_taken_back(session: Session) -> None:
    first = date(2025, 5, 12)
    say_lodging(session, LodgingWords("Lisbon", "The attic over the tram", first, 2))
    view = view_journey(session)
    assert [(s.name, s.place, s.nights, s.known_by) for s in view.lodgings] == [
        ("The attic over the tram", "Lisbon", 2, "you")
    ]
    assert view.stays[0].lodgings == (0,)
    assert view.days[0].slept == "The attic over the tram"
    later = LodgingWords("Lisbon", "The attic", date(2025, 5, 13))
    say_lodging(session, later, ("Lisbon", first))
    assert [s.first for s in view_journey(session).lodgings] == [later.first]
    with pytest.raises(UserError, match="needs a name"):
        say_lodging(session, LodgingWords("Lisbon", "  ", first))
    with pytest.raises(UserError, match="0 nights"):
        say_lodging(session, LodgingWords("Lisbon", "The attic", first, 0))
    unsay_lodging(session, "Lisbon", later.first)
    assert not view_journey(session).lodgings


def test_words_on_days_units_and_events(session: Session) -> None:
    day = date(2025, 5, 13)
    note_day(session, day, " Rain\nuntil noon. ")
    write_day_text(session, day, "We *waited*.\n\n\n")
    choose_unit(session, "miles")
    leave_out_event(session, "Dentist", out=True)
    view = view_journey(session)
    assert (view.days[1].note, view.days[1].text) == ("Rain until noon.", "We *waited*.\n")
    assert (view.unit, view.left_out) == ("miles", ("Dentist",))
    assert view.distance.endswith("mi")
    leave_out_event(session, "dentist", out=False)
    note_day(session, day, "")
    assert view_journey(session).days[1].note == ""
    assert view_journey(session).left_out == ()


@pytest.mark.parametrize(
    ("write", "shown", "end"), [(write_day_text, "text", "\n"), (note_day, "note", "")]
)
def test_what_was_written_elsewhere_meanwhile_is_not_written_over(
    session: Session, write: Callable[..., None], shown: str, end: str
) -> None:
    day = date(2025, 5, 13)
    write(session, day, "Mine.", was="")
    with pytest.raises(ConflictError, match="elsewhere"):
        write(session, day, "Another's.", was="")
    assert getattr(view_journey(session).days[1], shown) == f"Mine.{end}"
    write(session, day, "Both.", was=f"Mine.{end}")
    assert getattr(view_journey(session).days[1], shown) == f"Both.{end}"
