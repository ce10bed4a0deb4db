"""The person's own line on a clock: its grammar, and what it comes to."""

from __future__ import annotations

import re

from wayfold.base.errors import UserError
from wayfold.trip.clocks.evidence import Nominal
from wayfold.trip.clocks.model import ClockChoice, Span
from wayfold.trip.clocks.spans import split_zone
from wayfold.trip.zones import instant_of, load_zone

_OFFSET = re.compile(r"(?:UTC\s*)?([+\-−])(\d{1,2}):?(\d{2})$|UTC$")
_SLIP = re.compile(
    r"(?:(\d+)\s*h)?\s*(?:(\d+)\s*m(?:in)?)?\s*(?:(\d+(?:\.\d+)?)\s*s)?\s*(fast|slow)$"
)
_REMEDY = (
    "Write where the clock was set, as +02:00, UTC or Europe/Madrid, “local” if it always showed "
    "local time, or “own” for the zone in its files; then, if it was wrong, a comma and by how "
    "much: +02:00, 3m20s fast"
)


def read_clock_line(body: str, line: str, where: str = "") -> ClockChoice:
    """Read a line such as ``+02:00``, ``Europe/Madrid, 3m20s fast`` or ``local, 2m slow``.

    Raises UserError (with ``where``, the file and key) for anything else.
    """
    setting, _, slip = (part.strip() for part in line.partition(","))
    slip_s = 0.0
    if slip:
        match = _SLIP.match(slip)
        if match is None or not any(match.groups()[:3]):
            raise UserError(f"“{slip}” is no error of a clock.", where=where, remedy=_REMEDY)
        hours, minutes, seconds = (float(g or 0) for g in match.groups()[:3])
        slip_s = hours * 3600 + minutes * 60 + seconds
        slip_s = -slip_s if match[4] == "slow" else slip_s
    if setting == "local":
        return ClockChoice(body, slip_s=slip_s, local=True)
    if setting == "own":
        return ClockChoice(body, slip_s=slip_s)
    match = _OFFSET.match(setting)
    if match is not None:
        minutes = int(match[2] or 0) * 60 + int(match[3] or 0)
        if minutes > 14 * 60 or int(match[3] or 0) > 59:
            raise UserError(f"No zone is {setting} from UTC.", where=where, remedy=_REMEDY)
        east = -minutes if match[1] in ("-", "−") else minutes
        return ClockChoice(body, zone_minutes=float(east), slip_s=slip_s)
    try:
        load_zone(setting)
    except UserError as error:
        raise UserError(
            f"“{setting}” is no setting of a clock.", where=where, remedy=_REMEDY
        ) from error
    return ClockChoice(body, zone=setting, slip_s=slip_s)


def read_choice(choice: ClockChoice, nominal: Nominal) -> tuple[Span, ...]:
    """Give the spans that a choice comes to for a body's pictures; none for ``local``.

    ``nominal.shown`` must be what the clock showed, zones in the files left out of account,
    unless the choice is of the slip alone.
    """
    if choice.local:
        return ()
    times = sorted(nominal.shown.values())
    if choice.zone is None:
        middle = times[len(times) // 2]
        if choice.zone_minutes is None:
            zone, slip_s = split_zone(choice.slip_s)
            return (Span(None, choice.slip_s, zone, slip_s, 0.0, middle),)
        # The zone stays the one the person named, however wrong the clock was in it: where no
        # place tells another, the pictures' times are told in it.
        ahead_s = choice.zone_minutes * 60.0 + choice.slip_s
        return (Span(None, ahead_s, round(choice.zone_minutes), choice.slip_s, 0.0, middle),)
    spans: list[Span] = []
    for shown in times:
        utc = instant_of(shown, choice.zone)
        zone_s = (shown - utc.replace(tzinfo=None)).total_seconds()
        ahead_s = zone_s + choice.slip_s
        if not spans or spans[-1].ahead_s != ahead_s:
            since = shown if spans else None
            zone = round(zone_s / 60)
            spans.append(Span(since, ahead_s, zone, choice.slip_s, 0.0, shown))
    return tuple(spans)
