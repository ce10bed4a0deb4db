"""The doors of the desk: every address it has, with bodies after its own OpenAPI document."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from pathlib import Path
from random import Random
from typing import Any
from urllib.parse import quote, urlencode

from proving.fuzz.desk_room import LEFT_OUT, DeskRoom, Request
from proving.fuzz.door import Door, Entrance
from proving.fuzz.journey import RULES
from proving.fuzz.mutate import hostile_string, spoil, spoil_text
from proving.fuzz.pictures import spoil_picture
from proving.fuzz.samples import list_calendars, list_pictures, list_tracks
from proving.fuzz.schema import SchemaMaker
from wayfold.demo.profiles import write_profile

SERIES = 100
UPLOADS = {
    "/api/journey/files/track": "PUT",
    "/api/journey/files/calendar": "PUT",
    "/api/sheets/proof/profile": "POST",
    "/api/sheets/registration/picture": "POST",
}
METHODS = ("GET", "POST", "PUT", "DELETE", "PATCH", "HEAD", "OPTIONS")
MOST_LURES = 60


def prepare_api(room: Path) -> Entrance:
    """Make the door for all addresses ready."""
    desk = DeskRoom(room)
    lures = gather_lures(desk)
    desk.keep()  # with what was asked for now in its cache
    paths = {path: ways for path, ways in desk.document["paths"].items() if path not in LEFT_OUT}
    definitions = desk.document.get("components", {}).get("schemas", {})

    def make(rng: Random) -> bytes:
        maker = SchemaMaker(definitions, lures, wrong=rng.choice((0.0, 0.0, 0.02, 0.1)))
        method, address, body = _make_request(paths, maker, rng)
        if rng.random() < 0.03:
            method = rng.choice(METHODS)
        return _write(method, address, body)

    return Entrance(make, lambda case: desk.ask(_read(case)), desk.begin)


def prepare_uploads(room: Path) -> Entrance:
    """Make the door for files that are handed in ready."""
    desk = DeskRoom(room)
    makers: Mapping[str, Callable[[Random], bytes]] = {
        "/api/journey/files/track": lambda rng: spoil_text(rng.choice(list_tracks()), rng),
        "/api/journey/files/calendar": _make_calendar,
        "/api/sheets/proof/profile": lambda rng: spoil(write_profile("adobe-rgb"), rng, head=True),
        "/api/sheets/registration/picture": _make_upload,
    }

    def make(rng: Random) -> bytes:
        address = rng.choice(sorted(UPLOADS))
        name = rng.choice((hostile_string(rng), "walk.gpx", "a/b\\c.ics", "x" * 400))
        asked = f"{address}?{urlencode({'name': name}, errors='replace')}"
        return _write(UPLOADS[address], asked, makers[address](rng))

    def enter(case: bytes) -> None:
        desk.ask(_read(case), "application/octet-stream")

    return Entrance(make, enter, desk.begin)


def _make_calendar(rng: Random) -> bytes:
    text = rng.choice(list_calendars())
    return spoil_text(text.replace("END:VEVENT", f"{rng.choice(RULES)}\r\nEND:VEVENT", 1), rng)


def _make_upload(rng: Random) -> bytes:
    name, data = rng.choice(list_pictures())
    return spoil_picture(name, data, rng)


def gather_lures(desk: DeskRoom) -> dict[str, list[Any]]:
    """Give values that mean something to the desk, by their names, out of its own answers."""
    assert desk.client is not None
    found: dict[str, list[Any]] = {}
    asked = [path for path, ways in desk.document["paths"].items() if "get" in ways]
    for path in sorted(asked):
        if path in LEFT_OUT or "{" in path:
            continue
        answer = desk.client.get(path)
        if "json" in answer.headers.get("content-type", ""):
            _gather(answer.json(), "", found)
    for of, names in {
        "photo": ("photos", "id", "photo"), "key": ("key", "id"), "handle": ("handle",),
        "page": ("page", "number"), "place": ("place",), "block": ("block",),
    }.items():  # fmt: skip
        pool = [value for name in names for value in found.get(name, ())]
        found[of] = (found.get(of, []) + pool)[:MOST_LURES] or ["x"]
    found["number"] = [1, 2, 3, 4, 8, 0, -1, 10**9]
    pool = [value for values in found.values() for value in values if isinstance(value, str)]
    found[""] = sorted({value for value in pool if len(value) < 80})[:400] or ["x"]
    return {name: values for name, values in found.items() if values}


def _gather(value: Any, name: str, found: dict[str, list[Any]]) -> None:
    if isinstance(value, dict):
        for key, inner in value.items():
            found.setdefault("", []).append(key)
            _gather(inner, key, found)
    elif isinstance(value, list):
        for inner in value[:200]:
            _gather(inner, name, found)
    elif isinstance(value, str | int | float):
        known = found.setdefault(name, [])
        if value not in known and len(known) < MOST_LURES:
            known.append(value)


def _make_request(paths: Mapping[str, Any], maker: SchemaMaker, rng: Random) -> Request:
    pattern = rng.choice(sorted(paths))
    method = rng.choice(sorted(paths[pattern]))
    asked: dict[str, str] = {}
    path = pattern
    for parameter in paths[pattern][method].get("parameters", ()):
        name = parameter["name"]
        value = maker.make(parameter["schema"], rng, name)
        written = value if isinstance(value, str) else json.dumps(value)
        if parameter["in"] == "path":
            path = path.replace(f"{{{name}}}", quote(written[:1000], safe="", errors="replace"))
        elif parameter["in"] == "query" and rng.random() < 0.8:
            asked[name] = written[:1000]
    tail = f"?{urlencode(asked, errors='replace')}" if asked else ""
    return method.upper(), path + tail, _make_body(paths[pattern][method], maker, rng)


def _make_body(operation: Mapping[str, Any], maker: SchemaMaker, rng: Random) -> bytes:
    content = operation.get("requestBody", {}).get("content", {})
    schema = content.get("application/json", {}).get("schema")
    if schema is None:
        return rng.randbytes(20) if rng.random() < 0.1 else b""
    body = json.dumps(maker.make(schema, rng)).encode()
    return spoil(body, rng) if rng.random() < 0.05 else body


def _write(method: str, address: str, body: bytes) -> bytes:
    """Give a request as a case: what is asked in one line, then the body."""
    return json.dumps([method, address]).encode() + b"\n" + body


def _read(case: bytes) -> Request:
    line, _, body = case.partition(b"\n")
    method, address = json.loads(line)
    return method, address, body


API = Door("api", "every address of the desk", prepare_api, series=SERIES, slow_s=10.0)
UPLOADED = Door("uploads", "files handed in at the desk", prepare_uploads, series=20, slow_s=10.0)
