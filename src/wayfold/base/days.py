"""How messages say a day and a time: one form everywhere."""

from __future__ import annotations

from datetime import date, datetime

_MONTHS = (
    *("January", "February", "March", "April", "May", "June", "July"),
    *("August", "September", "October", "November", "December"),
)


def say_day(day: date) -> str:
    """Give "11 October 2025"."""
    return f"{day.day} {_MONTHS[day.month - 1]} {day.year}"


def say_minute(moment: datetime) -> str:
    """Give "05:27 on 26 October 2025", as the clock that ``moment`` is told by showed it."""
    return f"{moment:%H:%M} on {say_day(moment)}"
