"""From a calendar file's bytes to components: encodings, and files that are broken in one spot."""

from __future__ import annotations

import codecs
import re
from collections.abc import Iterator
from dataclasses import dataclass

from icalendar import Calendar as Parsed
from icalendar import Component

from wayfold.base.findings import Finding, Severity

MOST_BYTES = 50_000_000
_EVENT = re.compile(r"^BEGIN:VEVENT\b.*?^END:VEVENT\b[^\n]*", re.DOTALL | re.MULTILINE | re.I)
_ZONE = re.compile(r"^BEGIN:VTIMEZONE\b.*?^END:VTIMEZONE\b[^\n]*", re.DOTALL | re.MULTILINE | re.I)


@dataclass(frozen=True, slots=True)
class Opened:
    """The components of a file, and what was found on the way to them."""

    components: tuple[Component, ...]
    findings: tuple[Finding, ...]


def open_calendar(data: bytes, name: str) -> Opened:
    """Read a file's components. One that cannot be read gives none and a finding that says why.

    Where only a part is broken, its events are read one by one, and those that cannot be read are
    named.
    """
    if len(data) > MOST_BYTES:
        return _refuse(name, f"The file is larger than {MOST_BYTES // 1_000_000} MB.")
    text, findings = _decode(data, name)
    if not re.search(r"^\s*BEGIN\s*:\s*VCALENDAR", text, re.MULTILINE | re.IGNORECASE):
        return _refuse(name, "This is no calendar: it has no line BEGIN:VCALENDAR.")
    try:
        parsed = Parsed.from_ical(text, multiple=True)
    except Exception as error:  # the library lets many kinds through
        return _open_piecewise(text, name, str(error), findings)
    found = tuple(c for p in parsed for c in p.walk("VEVENT"))
    if len(found) < len(_EVENT.findall(text)):
        return _open_piecewise(text, name, "some events were passed over", findings)
    return Opened(found, tuple(findings))


def _decode(data: bytes, name: str) -> tuple[str, list[Finding]]:
    if data.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
        return data.decode("utf-16", errors="replace"), []
    try:
        return data.decode("utf-8-sig"), []
    except UnicodeDecodeError as error:
        what = (
            f"The file is not UTF-8, as the standard asks (byte {error.start}); it was read as "
            "Western European (Windows-1252)."
        )
        remedy = "Look at the accents in its names; where they are wrong, export it again as UTF-8."
        finding = Finding("calendar.encoding", Severity.NOTE, name, what, remedy)
        return data.decode("cp1252", errors="replace"), [finding]


def _open_piecewise(text: str, name: str, why: str, findings: list[Finding]) -> Opened:
    zones = "\n".join(_ZONE.findall(text))
    pieces = _EVENT.findall(text)
    if not pieces:
        return _refuse(name, f"The calendar cannot be read ({_shorten(why)}), and has no events.")
    found: list[Component] = []
    lost = 0
    for piece in pieces:
        read = next((e for e in _try_event(piece, zones)), None) or next(
            (e for e in _try_event(piece, "")), None
        )
        if read is None:
            lost += 1
        else:
            found.append(read)
    what = f"The calendar is broken ({_shorten(why)}); "
    what += f"{len(found)} of its {len(pieces)} events could be read."
    remedy = "Export it again; or leave it so, if the journey's events are all in the itinerary."
    severity = Severity.WARN if lost else Severity.NOTE
    return Opened(
        tuple(found), (*findings, Finding("calendar.broken", severity, name, what, remedy))
    )


def _try_event(piece: str, zones: str) -> Iterator[Component]:
    body = "\n".join(part for part in ("BEGIN:VCALENDAR", zones, piece, "END:VCALENDAR") if part)
    try:
        parsed = Parsed.from_ical(body + "\n", multiple=True)
    except Exception:  # as above; the caller counts what was lost
        return
    for calendar in parsed:
        yield from calendar.walk("VEVENT")


def _shorten(why: str) -> str:
    line = " ".join(why.split())
    return line if len(line) <= 120 else f"{line[:117]}…"


def _refuse(name: str, what: str) -> Opened:
    remedy = "Export it again as an iCalendar file (.ics), or take it out of the folder."
    return Opened((), (Finding("calendar.unreadable", Severity.WARN, name, what, remedy),))
