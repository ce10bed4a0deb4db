"""trip.toml: the person's words are kept to the letter; errors say where and what to write."""

from __future__ import annotations

import tomllib
from datetime import date, datetime
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wayfold.base.errors import UserError
from wayfold.book.edits import (
    JourneyEdit,
    LeaveOut,
    SetClock,
    SetClockShown,
    SetDayNote,
    SetLeg,
    SetLodging,
    SetStop,
    SetUnit,
    Unsay,
    change_journey,
)
from wayfold.book.trip_choices import (
    ClockShown,
    DayNote,
    LegChoice,
    LodgingChoice,
    Mode,
    StopChoice,
    TripChoices,
    Unit,
)
from wayfold.project.files import BookFolder
from wayfold.project.trip_file import HEAD, change_text, read_trip_choices, write_trip_choices

TEXT = """\
# Our spring journey.
version = 1
units = "miles"   # as in the log

[[leg]]           # the slow train
from = "Bilbao"
to = "Barcelona"
mode = "train"
depart = 2025-05-06T09:20:00   # ten minutes late
arrive = 2025-05-06T15:58:00

# It rained.
[[day]]
date = 2025-05-04
note = "Rain until noon."

[clocks]
anything = "of another part"
"""


@pytest.fixture
def folder(tmp_path: Path) -> BookFolder:
    return BookFolder(tmp_path)


def read(folder: BookFolder, text: str) -> TripChoices:
    folder.trip_file.write_text(text, encoding="utf-8")
    return read_trip_choices(folder)


def test_without_a_file_nothing_is_said(folder: BookFolder) -> None:
    assert read_trip_choices(folder) == TripChoices()


def test_a_file_is_read(folder: BookFolder) -> None:
    choices = read(folder, TEXT.split("[clocks]")[0])
    assert choices.unit is Unit.MILES
    assert choices.legs == (
        LegChoice(
            "Bilbao",
            "Barcelona",
            Mode.TRAIN,
            datetime(2025, 5, 6, 9, 20),
            datetime(2025, 5, 6, 15, 58),
        ),
    )
    assert choices.days == (DayNote(date(2025, 5, 4), "Rain until noon."),)


def test_the_head_of_a_new_file_says_nothing_yet(folder: BookFolder) -> None:
    assert read(folder, HEAD) == TripChoices()


def test_writing_what_is_there_changes_no_byte(folder: BookFolder) -> None:
    text = TEXT.split("[clocks]")[0]
    choices = read(folder, text)
    write_trip_choices(folder, choices)
    assert folder.trip_file.read_text(encoding="utf-8") == text


def test_a_change_keeps_comments_and_other_parts(folder: BookFolder) -> None:
    choices = read(folder, TEXT)
    changed = change_journey(choices, SetDayNote(date(2025, 5, 5), "Sun."))
    changed = change_journey(
        changed,
        SetLeg(LegChoice("Bilbao", "Barcelona", Mode.TRAIN, datetime(2025, 5, 6, 9, 30))),
    )
    text = change_text(TEXT, changed)
    for kept in ("# Our spring journey.", "# as in the log", "# the slow train", "# It rained.",
                 "# ten minutes late", '[clocks]\nanything = "of another part"'):  # fmt: skip
        assert kept in text, kept
    data = tomllib.loads(text)
    assert data["leg"][0]["depart"] == datetime(2025, 5, 6, 9, 30)
    assert "arrive" not in data["leg"][0]
    assert [d["note"] for d in data["day"]] == ["Rain until noon.", "Sun."]


def test_values_that_are_new_come_before_the_first_table(folder: BookFolder) -> None:
    text = TEXT.split("[clocks]")[0].replace('units = "miles"   # as in the log\n', "")
    choices = read(folder, text)
    changed = TripChoices(
        Unit.MILES, True, legs=choices.legs, days=choices.days, left_out=("Dentist",)
    )
    assert read(folder, change_text(text, changed)) == changed


NAMES = st.sampled_from(["Bilbao", "Vila do Conde", 'A "quoted" place', "Þórshöfn", "= + - @"])
DATES = st.dates(date(2024, 1, 1), date(2026, 12, 31))
TIMES = st.datetimes(datetime(2024, 1, 1), datetime(2026, 12, 31)).map(
    lambda t: t.replace(microsecond=0)
)
NOTES = st.none() | NAMES
STOPS = st.builds(StopChoice, NAMES, NAMES, st.none() | st.integers(1, 3))
LEGS = st.builds(
    LegChoice,
    NAMES,
    NAMES,
    st.none() | st.sampled_from(Mode),
    st.none() | TIMES,
    st.none() | TIMES,
    NOTES,
    st.none() | st.floats(1, 9000),
    NOTES,
    st.none() | DATES,
)
LODGINGS = st.builds(LodgingChoice, NAMES, NAMES, DATES, st.integers(1, 9), NOTES)
SHOWN = st.builds(ClockShown, NAMES, TIMES, st.none() | st.just("Europe/Madrid"))
EDITS: st.SearchStrategy[JourneyEdit] = st.one_of(
    st.builds(SetStop, STOPS),
    st.builds(SetLeg, LEGS),
    st.builds(SetLodging, LODGINGS),
    st.builds(SetDayNote, DATES, NOTES),
    st.builds(Unsay, STOPS | LEGS | LODGINGS),
    st.builds(SetClock, NAMES, st.none() | st.sampled_from(["+02:00, 3m20s fast", "local"])),
    st.builds(lambda shown: SetClockShown(shown.photo, shown), SHOWN),
    st.builds(SetClockShown, NAMES, st.none()),
    st.builds(LeaveOut, st.lists(NAMES, unique=True).map(tuple)),
    st.builds(SetUnit, st.sampled_from(Unit)),
)


@given(st.lists(EDITS, max_size=6))
def test_whatever_is_said_is_read_back(tmp_path_factory, edits: list[JourneyEdit]) -> None:
    folder = BookFolder(tmp_path_factory.mktemp("book"))
    choices = TripChoices()
    for edit in edits:
        choices = change_journey(choices, edit)
        write_trip_choices(folder, choices)
        assert read_trip_choices(folder) == choices
    before = folder.trip_file.read_bytes() if folder.trip_file.exists() else None
    write_trip_choices(folder, choices)
    assert before is None or folder.trip_file.read_bytes() == before


@pytest.mark.parametrize(
    ("text", "where", "says"),
    [
        ("[[leg]]\nfrom = 'A'\n", "line 3", "leg[1].to"),
        ("[[leg]]\nfrom = 'A'\nto = 'B'\nmode = 'aeroplane'\n", "line 6", "flight"),
        ("[[lodging]]\nplace = 'A'\nname = 'x'\nfirst = 'soon'\n", "line 6", "date"),
        ("[[stop]]\nplace = 'A'\nname = 'C'\ntitle = 'B'\n", "line 6", "not known"),
        ("[[day]]\ndate = 2025-05-04\nnote = 'a'\n" * 2, "trip.toml", "two day tables"),
    ],
)
def test_errors_name_line_and_mend(folder: BookFolder, text: str, where: str, says: str) -> None:
    with pytest.raises(UserError) as caught:
        read(folder, f"version = 1\n\n{text}")
    assert where in caught.value.where
    assert says in str(caught.value)
    assert caught.value.remedy


def test_tables_written_inline_are_refused_and_left_alone(folder: BookFolder) -> None:
    text = 'version = 1\nday = [{ date = 2025-05-04, note = "a" }]\n'
    choices = read(folder, text)
    changed = change_journey(choices, SetDayNote(date(2025, 5, 5), "b"))
    try:
        write_trip_choices(folder, changed)
    except UserError as error:
        assert "changed safely" in error.what
        assert folder.trip_file.read_text(encoding="utf-8") == text
    else:
        assert read_trip_choices(folder) == changed


def test_places_for_a_towns_map_are_read_with_latitude_first(tmp_path: Path) -> None:
    folder = BookFolder(tmp_path)
    text = 'version = 1\n[[place]]\ntown = "Łódź"\nname = "Księży Młyn"\nat = [51.7548, 19.4795]\n'
    folder.trip_file.write_text(text, "utf-8")
    (place,) = read_trip_choices(folder).places
    assert (place.town, place.name, place.note) == ("Łódź", "Księży Młyn", "")
    assert (place.place.latitude, place.place.longitude) == (51.7548, 19.4795)


@pytest.mark.parametrize("at", ["[95.0, 7.4]", "[43.7, 190.0]", "[43.7]", '"Monaco"'])
def test_a_place_off_the_earth_is_refused_by_its_key(tmp_path: Path, at: str) -> None:
    folder = BookFolder(tmp_path)
    text = f'version = 1\n[[place]]\ntown = "Monaco"\nname = "Casino"\nat = {at}\n'
    folder.trip_file.write_text(text, "utf-8")
    with pytest.raises(UserError) as caught:
        read_trip_choices(folder)
    assert "at" in str(caught.value)


def test_a_clock_is_set_and_left_to_the_evidence_again(folder: BookFolder) -> None:
    text = TEXT.replace('anything = "of another part"', '# as on its back\n"Halden H7" = "local"')
    choices = read(folder, text)
    slow = change_journey(choices, SetClock("Halden H7", "local, 4m slow"))
    kept = change_text(text, slow)
    assert '# as on its back\n"Halden H7" = "local, 4m slow"\n' in kept
    assert change_text(kept, change_journey(slow, SetClock("Halden H7", None))) == text.replace(
        '"Halden H7" = "local"\n', ""
    )


def test_taking_back_what_was_said_leaves_the_rest(folder: BookFolder) -> None:
    choices = read(folder, TEXT)
    leg = choices.legs[0]
    without = change_text(TEXT, change_journey(choices, Unsay(leg)))
    data = tomllib.loads(without)
    assert "leg" not in data
    assert data["day"] == [{"date": date(2025, 5, 4), "note": "Rain until noon."}]
    assert "# Our spring journey." in without
