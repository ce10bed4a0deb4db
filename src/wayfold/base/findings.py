"""Judgements on the book. A finding is a value: collected, shown, never raised."""

from __future__ import annotations

import enum
import re
from collections.abc import Mapping
from dataclasses import dataclass

_PAGES = re.compile(r"^pages? (\d+)((?:, \d+)*)(?: and (\d+))?$")


class Severity(enum.StrEnum):
    """How much a finding matters."""

    NOTE = "note"
    """Worth knowing; nothing need be done."""
    WARN = "warn"
    """Will probably disappoint on paper."""
    BLOCK = "block"
    """Printing now would waste paper."""


@dataclass(frozen=True, slots=True)
class Rewording:
    """A passage written otherwise, which says the same: safe to be done unasked.

    ``source`` names what the person wrote it in ("text:rome", "caption:3f…"), as
    ``checks.sources`` reads and writes it.
    """

    source: str
    old: str
    new: str


@dataclass(frozen=True, slots=True)
class Finding:
    """One judgement: which rule spoke, how bad, where, what, and what to do about it.

    ``about`` is the id of the photograph or the key of the text that it speaks of, where there is
    one: screens lead to it. ``rewordings`` mend it, all of them together, where that is safe.
    Findings that are kept do without both.
    """

    rule: str
    severity: Severity
    where: str
    message: str
    remedy: str = ""
    about: str = ""
    rewordings: tuple[Rewording, ...] = ()

    @property
    def pages(self) -> tuple[int, ...]:
        """The pages that ``where`` names: "page 12", "pages 12 and 13", "pages 2, 3 and 4"."""
        named = _PAGES.match(self.where)
        return tuple(int(n) for n in re.findall(r"\d+", self.where)) if named else ()

    def to_json(self) -> dict[str, str]:
        """Give the finding as plain values."""
        return {
            "rule": self.rule,
            "severity": self.severity.value,
            "where": self.where,
            "message": self.message,
            "remedy": self.remedy,
        }

    @staticmethod
    def from_json(values: Mapping[str, str]) -> Finding:
        """Read what ``to_json`` gives."""
        return Finding(**{**values, "severity": Severity(values["severity"])})  # type: ignore[arg-type]


def blocks(findings: tuple[Finding, ...]) -> bool:
    """Whether any of the findings should stop the printing."""
    return any(f.severity is Severity.BLOCK for f in findings)
