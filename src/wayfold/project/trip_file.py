"""trip.toml: what the person says of the journey, short and theirs. Comments and order survive."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Sequence
from datetime import date, datetime
from typing import Any

import tomlkit
from tomlkit.items import AoT

from wayfold.base.errors import UserError
from wayfold.base.world import LonLat
from wayfold.book.trip_choices import (
    ClockLine,
    ClockShown,
    DayNote,
    LegChoice,
    LodgingChoice,
    PlaceChoice,
    StopChoice,
    TripChoices,
)
from wayfold.project.files import BookFolder
from wayfold.project.toml_edge import check_shape, read_toml
from wayfold.project.trip_schema import TRIP_VERSION, TripFile

NAME = "trip.toml"

HEAD = f"""# What you say of the journey. Wayfold works out the rest from photographs and calendars,
# and never changes a line of yours. Say only what it gets wrong or cannot know:
#
#   units = "miles"                        itinerary = true     a table of the journey in the book
#   overview = true                        a map of the journey in the book
#   flags = false                          no flags on that map
#   leave_out = ["Dentist"]                calendar events that are none of the journey's business
#
#   [[stop]]                               [[lodging]]
#   place = "Vila"                         place = "Bilbao"
#   name = "Vila do Conde"                 name = "The room over the river"
#                                          first = 2025-05-03
#   [[leg]]                                nights = 3
#   from = "Bilbao"
#   to = "Barcelona"                       [[day]]
#   mode = "train"                         date = 2025-05-04
#   depart = 2025-05-06T09:20:00           note = "Rain until noon."
#   arrive = 2025-05-06T15:58:00
#
#   [[place]]                              a place with a number on the map of its town, which is
#   town = "Barcelona"                     drawn from the street data in the folder streets
#   name = "Casa Batlló"
#   at = [41.3917, 2.1649]                 latitude, longitude
#
#   [clocks]                               what a camera's clock was set to (wayfold clocks)
#   "Nikon D750 6021" = "+02:00, 3m20s fast"
#
#   [[clock_picture]]                      a photograph of a right clock, and what it shows
#   photo = "DSC_0042.JPG"
#   shows = 2025-05-04T09:20:31
#
# Modes: flight, train, road, boat, on foot. Times are those of the clocks at each place.
version = {TRIP_VERSION}
"""

_VERSION = re.compile(r"^version[ \t]*=.*$", re.MULTILINE)
_VALUES = ("units", "itinerary", "overview", "flags", "leave_out")
_Rows = list[dict[str, Any]]
_KEYS = {
    "stop": ("place", "visit"),
    "leg": ("from", "to", "day"),
    "lodging": ("place", "first"),
    "day": ("date",),
    "clock_picture": ("photo",),
}


def read_trip_choices(folder: BookFolder) -> TripChoices:
    """Read what the person says; nothing where the file is not there.

    Raises UserError naming line, key and what to write instead.
    """
    path = folder.trip_file
    if not path.is_file():
        return TripChoices()
    file = check_shape(read_toml(path, NAME, TRIP_VERSION), TripFile, path, NAME)
    choices = TripChoices(
        unit=file.units,
        itinerary=file.itinerary,
        overview=file.overview,
        flags=file.flags,
        stops=tuple(StopChoice(**t.model_dump()) for t in file.stop),
        legs=tuple(LegChoice(**t.model_dump()) for t in file.leg),
        lodgings=tuple(LodgingChoice(**t.model_dump()) for t in file.lodging),
        days=tuple(DayNote(**t.model_dump()) for t in file.day),
        left_out=tuple(file.leave_out),
        places=tuple(
            PlaceChoice(t.town, t.name, LonLat(t.at[1], t.at[0]), t.note) for t in file.place
        ),
        clocks=tuple(ClockLine(body, line) for body, line in file.clocks.items()),
        clocks_shown=tuple(ClockShown(t.photo, t.shows, t.zone) for t in file.clock_picture),
    )
    _refuse_contradictions(choices)
    return choices


def _refuse_contradictions(choices: TripChoices) -> None:
    for kind, said in (
        ("stop", choices.stops),
        ("leg", choices.legs),
        ("lodging", choices.lodgings),
        ("day", choices.days),
    ):
        keys = [one.key for one in said]
        twice = next((key for key in keys if keys.count(key) > 1), None)
        if twice is not None:
            words = ", ".join(str(part) for part in twice if part is not None)
            raise UserError(
                f"There are two {kind} tables for {words}, and Wayfold cannot tell which holds.",
                where=NAME,
                remedy="Take one of them away, or tell them apart (a leg by its day, a stop by its "
                "visit).",
            )


def write_trip_choices(folder: BookFolder, choices: TripChoices) -> None:
    """Put what the person says into the file, changing no more of it than must be.

    Raises UserError where the file is written in a way that cannot be changed safely; it is then
    left as it was.
    """
    path = folder.trip_file
    text = path.read_text(encoding="utf-8") if path.is_file() else HEAD
    changed = change_text(text, choices)
    if changed != text or not path.is_file():
        folder.write(path, changed.encode())


def change_text(text: str, choices: TripChoices) -> str:
    """Give the file's text so that it says ``choices``; all else in it stays as it is."""
    wanted = _describe(choices)
    if _plain(text) == wanted:
        return text
    before = _plain(text)
    for key in _VALUES:
        if wanted.get(key) != before.get(key) and key not in before and key in wanted:
            text = _add_value(text, key, wanted[key])
    document = tomlkit.parse(text)
    for key in _VALUES:
        if wanted.get(key) != before.get(key) and key in document:
            _set_value(document, key, wanted.get(key))
    for kind, keys in _KEYS.items():
        _set_tables(document, kind, keys, wanted.get(kind, []))
    _set_clocks(document, wanted.get("clocks", {}))
    result = tomlkit.dumps(document)
    if _plain(result) != wanted:
        raise UserError(
            "The file is written in a way that cannot be changed safely.",
            where=NAME,
            remedy="Write each stop, leg, lodging, day and clock picture as its own table, with "
            "one key a line.",
        )
    return result


def _add_value(text: str, key: str, value: Any) -> str:
    """Put a line behind that of the version: what follows the first table would belong to it."""
    line = f"{key} = {tomlkit.item(value).as_string()}"
    return _VERSION.sub(lambda found: f"{found[0]}\n{line}", text, count=1)


def _set_value(document: tomlkit.TOMLDocument, key: str, value: object) -> None:
    if value is None:
        del document[key]
    else:
        document[key] = value


def _set_tables(
    document: tomlkit.TOMLDocument, kind: str, keys: tuple[str, ...], wanted: _Rows
) -> None:
    if not wanted and kind not in document:
        return
    if kind not in document:
        document[kind] = tomlkit.aot()
    tables = document[kind]
    if not isinstance(tables, AoT):
        return  # written inline: the caller finds the difference and refuses
    for index in reversed(range(len(tables))):
        if not any(_same(tables[index], row, keys) for row in wanted):
            del tables[index]
    for row in wanted:
        table = next((t for t in tables if _same(t, row, keys)), None)
        if table is None:
            table = tomlkit.table()
            tables.append(table)
        for name in [n for n in table if n not in row and (n, table[n]) != ("nights", 1)]:
            del table[name]
        for name, value in row.items():
            if name not in table or table[name] != value:
                table[name] = value
    if not len(tables):
        del document[kind]


def _set_clocks(document: tomlkit.TOMLDocument, wanted: dict[str, str]) -> None:
    if "clocks" not in document:
        if not wanted:
            return
        document["clocks"] = tomlkit.table()
    table: Any = document["clocks"]
    for body in [body for body in table if body not in wanted]:
        del table[body]
    for body, line in wanted.items():
        if table.get(body) != line:
            table[body] = line


def _same(table: Any, row: dict[str, Any], keys: Sequence[str]) -> bool:
    return all(_key_part(table, key) == _key_part(row, key) for key in keys)


def _key_part(row: Any, key: str) -> object:
    """Give what a table is told by: a way's day may be that of its departure."""
    value = row.get(key)
    if key == "day" and value is None and isinstance(row.get("depart"), datetime):
        return row["depart"].date()
    return value


def _describe(choices: TripChoices) -> dict[str, Any]:
    """Give the choices as the file's own values; what is not said is left out."""
    described: dict[str, Any] = {}
    if choices.unit is not TripChoices().unit:
        described["units"] = choices.unit.value
    if choices.itinerary is not None:
        described["itinerary"] = choices.itinerary
    if choices.overview is not None:
        described["overview"] = choices.overview
    if choices.flags is not None:
        described["flags"] = choices.flags
    if choices.left_out:
        described["leave_out"] = list(choices.left_out)
    rows: dict[str, _Rows] = {
        "stop": [_row(place=s.place, visit=s.visit, name=s.name) for s in choices.stops],
        "leg": [
            _row(
                **{"from": leg.start, "to": leg.end},
                day=leg.day,
                mode=leg.mode.value if leg.mode else None,
                depart=leg.depart,
                arrive=leg.arrive,
                service=leg.service,
                distance_km=leg.distance_km,
                note=leg.note,
            )
            for leg in choices.legs
        ],
        "lodging": [
            _row(
                place=s.place,
                name=s.name,
                first=s.first,
                nights=s.nights if s.nights > 1 else None,
                note=s.note,
            )
            for s in choices.lodgings
        ],
        "day": [_row(date=d.date, note=d.note) for d in choices.days],
        "clock_picture": [
            _row(photo=c.photo, shows=c.shows, zone=c.zone) for c in choices.clocks_shown
        ],
    }
    if choices.clocks:
        described["clocks"] = {clock.body: clock.line for clock in choices.clocks}
    return described | {kind: found for kind, found in rows.items() if found}


def _row(**values: str | int | float | date | datetime | None) -> dict[str, Any]:
    return {key: value for key, value in values.items() if value is not None}


def _plain(text: str) -> dict[str, Any]:
    """Give what a text says, in the form of ``_describe``: defaults left out, parts ordered."""
    kept = (*_VALUES, *_KEYS, "clocks")
    data = {k: v for k, v in tomllib.loads(text).items() if k in kept and v not in ([], {})}
    for row in data.get("lodging", []):
        if row.get("nights") == 1:
            del row["nights"]
    if data.get("units") == TripChoices().unit.value:
        del data["units"]
    return data
