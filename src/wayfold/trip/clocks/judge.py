"""What the person should know of the clocks, as findings."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import pairwise
from math import isinf

from wayfold.base.findings import Finding, Severity
from wayfold.base.mends import Mend
from wayfold.trip.clocks.model import ClockReading, State
from wayfold.trip.earth import distance_m
from wayfold.trip.model import Moment

SUPERSONIC_M_S = 300.0


def judge_clocks(
    readings: Sequence[ClockReading], moments: Sequence[Moment], names: Mapping[str, str]
) -> tuple[Finding, ...]:
    """Give a finding for every clock that was corrected, is rough, or is not known.

    ``names`` are what to call pictures, by id.

    A clock that keeps its own zone without objection needs none. Then one for journeys that
    nobody could have made, which a wrong clock or place betrays.
    """
    found = [f for reading in readings if (f := _judge(reading))]
    return (*found, *_judge_leaps(moments, names))


def _judge(reading: ClockReading) -> Finding | None:
    where = reading.body.key
    if reading.state is State.OWN:
        return None
    partly = any(isinf(span.error_s) for span in reading.spans)
    if reading.state is State.UNKNOWN:
        rule, severity = "trip.clock-unknown", Severity.NOTE
    elif reading.state is State.ROUGH or partly:
        rule, severity = "trip.clock-rough", Severity.WARN
    else:
        rule, severity = "trip.clock", Severity.NOTE
    remedy = (
        "" if reading.state is State.CHOSEN else f"Your own word overrules this: {Mend.CLOCKS}."
    )
    said = reading.words.removeprefix(f"{where}: ")
    return Finding(rule, severity, where, said[0].upper() + said[1:], remedy)


def _judge_leaps(moments: Sequence[Moment], names: Mapping[str, str]) -> list[Finding]:
    sure = [m for m in moments if m.utc and m.place and not m.doubtful]
    leaps = 0
    example = ""
    for one, other in pairwise(sure):
        assert one.utc and other.utc and one.place and other.place
        # Positions of telephones jump by hundreds of metres in a second; journeys do not.
        seconds = (other.utc - one.utc).total_seconds() + 60.0
        if distance_m(one.place, other.place) > SUPERSONIC_M_S * seconds:
            leaps += 1
            example = example or f"{names[one.photo]} and {names[other.photo]}"
    if not leaps:
        return []
    what = (
        f"{leaps} time(s) two pictures in a row lie farther apart than anyone can travel between "
        f"them, for example {example}. A clock or a place is wrong."
    )
    remedy = "Look at the times and places of these pictures."
    return [Finding("trip.leap", Severity.WARN, "photographs", what, remedy)]
