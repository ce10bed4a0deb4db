"""A clock and the evidence for it, in words and numbers."""

from __future__ import annotations

from collections.abc import Sequence
from math import isinf
from statistics import median

from wayfold.base.days import say_minute
from wayfold.base.mends import Mend
from wayfold.trip.clocks.consensus import Consensus, agrees
from wayfold.trip.clocks.evidence import Nominal
from wayfold.trip.clocks.model import (
    ClockChoice,
    ClockReading,
    EvidenceRow,
    Hint,
    Kind,
    Span,
    State,
)


def tabulate_evidence(
    hints: Sequence[Hint], spans: Sequence[Span], found: Sequence[Consensus]
) -> tuple[EvidenceRow, ...]:
    """Give a row for each kind of evidence: how many pieces, how many agree, and what they say."""
    supporting = {id(hint) for consensus in found for hint in consensus.inliers}

    def fits(hint: Hint) -> bool:
        if not spans:
            return id(hint) in supporting
        return any(agrees(hint, s.ahead_at(hint.shown)) for s in spans if not isinf(s.error_s))

    rows = []
    for kind in Kind:
        of_kind = [h for h in hints if h.kind is kind]
        if not of_kind:
            continue
        right = [h for h in of_kind if fits(h)]
        values = [(h.low_s + h.high_s) / 2 for h in right or of_kind]
        middle = median(values)
        spread = median(abs(v - middle) for v in values)
        one = (right or of_kind)[0].words
        rows.append(EvidenceRow(kind, len(of_kind), len(right), middle, spread, f"e.g. {one}"))
    return tuple(rows)


def describe_clock(
    nominal: Nominal,
    state: State,
    spans: Sequence[Span],
    rows: Sequence[EvidenceRow],
    found: Sequence[Consensus],
    choice: ClockChoice | None,
) -> str:
    """Give one or two sentences: what the clock was, how sure that is, or why it is not known."""
    name = nominal.body.key
    if choice is not None and choice.local:
        slip = f", {_say_slip(choice.slip_s)}" if choice.slip_s else ""
        return f"{name}: by your word its clock always showed local time{slip}."
    if state is State.CHOSEN:
        return f"{name}: by your word its clock was {_say_spans(nominal, spans)}."
    if state is State.OWN:
        return f"{name}: its files tell their zone themselves, and nothing speaks against them."
    pieces = sum(row.pieces for row in rows)
    if state is State.UNKNOWN:
        return f"{name}: its clock is not known. {_say_why(found, pieces)}"
    agree = sum(row.agreeing for row in rows)
    what = _say_spans(nominal, spans)
    how = "" if state is State.KNOWN else " That is rough: its times may be wrong by so much."
    return f"{name}: its clock was {what}; {agree} of {pieces} pieces of evidence agree.{how}"


def tell_reading(reading: ClockReading) -> tuple[str, ...]:
    """Give the lines to show before a reading is used: the sentence, then each evidence."""
    lines = [reading.words]
    for row in reading.evidence:
        value = "" if row.ahead_s is None else f", {say_ahead(row.ahead_s)}"
        spread = f" ± {row.spread_s:.0f} s" if row.spread_s else ""
        lines.append(
            f"  {row.kind}: {row.agreeing} of {row.pieces} agree{value}{spread}; {row.words}"
        )
    return tuple(lines)


def _say_why(found: Sequence[Consensus], pieces: int) -> str:
    remedy = (
        f"Point at a picture of a clock ({Mend.CLOCK_PICTURES}), or say how it was set: "
        f"{Mend.CLOCKS}."
    )
    if not pieces:
        return (
            "No picture of it tells a receiver's time or a zone, and nothing else of the journey "
            f"can be laid beside it. Its times are left as the camera had them. {remedy}"
        )
    best = max(found, key=lambda c: c.support, default=None)
    if best is not None and best.rival * 1.35 > best.support:
        why = "contradict each other"
    else:
        why = "are too few or too inexact"
    count = "The one piece of evidence is" if pieces == 1 else f"The {pieces} pieces of evidence"
    if pieces == 1:
        why = "too little to go by"
    return f"{count} {why}. Its times are left as the camera had them. {remedy}"


def _say_spans(nominal: Nominal, spans: Sequence[Span]) -> str:
    said = []
    for span in spans:
        since = f"from {say_minute(span.since)} " if span.since else ""
        if isinf(span.error_s):
            said.append(f"{since}not known, as nothing tells whether it was set on the way")
            continue
        error = f" (± {say_seconds(span.error_s)})" if span.error_s else ""
        drift = f", gaining {span.drift_s_day:+.1f} s a day" if span.drift_s_day else ""
        if nominal.tagged:
            setting = _say_slip(span.ahead_s) + " against the zone in its files"
        elif span.zone_minutes is None:
            setting = say_ahead(span.ahead_s)
        else:
            setting = f"at {say_zone(span.zone_minutes)}, {_say_slip(span.slip_s)}"
        said.append(f"{since}{setting}{error}{drift}")
    return "; ".join(said)


def say_zone(minutes: float) -> str:
    """Give ``+02:00`` for 120 minutes east of UTC."""
    whole = round(abs(minutes))
    return f"{'-' if minutes < 0 else '+'}{whole // 60:02d}:{whole % 60:02d}"


def say_seconds(seconds: float) -> str:
    """Give a length of time as ``3 min 20 s``, days and hours where it has them."""
    left = round(abs(seconds))
    parts: list[str] = []
    for size, unit in ((86_400, "d"), (3600, "h"), (60, "min"), (1, "s")):
        if left >= size or (size == 1 and not parts):
            parts.append(f"{left // size} {unit}")
            left %= size
    return " ".join(parts)


def say_ahead(ahead_s: float) -> str:
    """Give how far a clock stood from UTC."""
    if abs(ahead_s) < 0.5:
        return "at UTC"
    return f"{say_seconds(ahead_s)} {'ahead of' if ahead_s > 0 else 'behind'} UTC"


def _say_slip(slip_s: float) -> str:
    if abs(slip_s) < 0.5:
        return "right to the second"
    return f"{say_seconds(slip_s)} {'fast' if slip_s > 0 else 'slow'}"
