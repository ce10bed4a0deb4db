"""What works on this machine: each part tried with something small, and told plainly."""

from __future__ import annotations

import enum
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from wayfold.base.errors import UserError

REINSTALL = "Install Wayfold again: python -m pip install --force-reinstall wayfold"


class Standing(enum.StrEnum):
    """How a part stands."""

    WORKS = "works"
    WITHOUT = "not here"
    """Wayfold does its work without it; the remedy says how to have it."""
    FAILS = "does not work"


@dataclass(frozen=True, slots=True)
class Tried:
    """One part that was tried; ``remedy`` says what to do where it does not work.

    ``detail`` is for whoever helps the person.
    """

    group: str
    name: str
    standing: Standing
    what: str
    remedy: str = ""
    detail: str = ""

    def to_json(self) -> dict[str, str]:
        """Give it as plain values."""
        return {
            "group": self.group,
            "name": self.name,
            "standing": self.standing.value,
            "what": self.what,
            "remedy": self.remedy,
            "detail": self.detail,
        }


@dataclass(frozen=True, slots=True)
class Report:
    """All that was tried, in the order in which it is told."""

    tried: tuple[Tried, ...]

    @property
    def ok(self) -> bool:
        """Whether nothing that Wayfold needs fails."""
        return not self.failing

    @property
    def failing(self) -> tuple[Tried, ...]:
        """What does not work."""
        return tuple(one for one in self.tried if one.standing is Standing.FAILS)

    def to_json(self) -> dict[str, Any]:
        """Give the report as plain values."""
        return {"ok": self.ok, "tried": [one.to_json() for one in self.tried]}


Trial = Callable[[], "str | Tried"]
"""Tries one part: gives in words what works, or the whole judgement; raises what went wrong."""


def try_all(group: str, trials: Iterable[tuple[str, Trial, str]]) -> Iterator[Tried]:
    """Try parts by their names, each with the remedy should it fail. Nothing is raised."""
    for name, trial, remedy in trials:
        yield try_one(group, name, trial, remedy)


def try_one(group: str, name: str, trial: Trial, remedy: str = REINSTALL) -> Tried:
    """Try one part; whatever it raises is told."""
    try:
        found = trial()
    except UserError as error:
        what = f"{error.where}: {error.what}" if error.where else error.what
        return Tried(group, name, Standing.FAILS, what, error.remedy or remedy)
    # A broken installation fails in any way it likes, and the person wants to hear of the rest.
    except Exception as error:
        return Tried(group, name, Standing.FAILS, f"{type(error).__name__}: {error}", remedy)
    if isinstance(found, Tried):
        return found
    return Tried(group, name, Standing.WORKS, found)
