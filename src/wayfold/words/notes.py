"""Footnotes as they are written: which there are, what calls them, and what is wrong with them."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, field

from markdown_it.token import Token

from wayfold.base.errors import UserError

_CALL = re.compile(r"\[\^[^\]\s]+\]")


@dataclass(frozen=True, slots=True)
class Definition:
    """What a footnote says, still as Markdown, and the line it begins on."""

    tokens: tuple[Token, ...]
    line: int


@dataclass(slots=True)
class Notes:
    """The footnotes of one text, numbered in the order in which they are called."""

    where: str
    defined: dict[str, Definition]
    numbers: dict[str, int] = field(default_factory=dict)

    def call(self, label: str, line: int) -> tuple[int, Definition | None]:
        """Give a footnote's number and, at its first call, what it says.

        Raises UserError for one that is nowhere written.
        """
        if label not in self.defined:
            raise UserError(
                f"The footnote [^{label}] is called, but not written.",
                where=f"{self.where}, line {line}",
                remedy=f"Write what it says in a line of its own, [^{label}]: and the words, or "
                "put \\ before the [.",
            )
        first = label not in self.numbers
        number = self.numbers.setdefault(label, len(self.numbers) + 1)
        return number, self.defined[label] if first else None

    def refuse_uncalled(self) -> None:
        """Raise UserError for the first footnote that nothing calls."""
        for label, note in self.defined.items():
            if label not in self.numbers:
                raise UserError(
                    f"Nothing calls the footnote [^{label}], so no page would show it.",
                    where=f"{self.where}, line {note.line}",
                    remedy=f"Put [^{label}] behind the word it belongs to, or take it out.",
                )


def take_notes(tokens: Sequence[Token], where: str) -> tuple[list[Token], Notes]:
    """Part a text from its footnotes; ``where`` names its file.

    Raises UserError for two footnotes of one name.
    """
    text: list[Token] = []
    defined: dict[str, Definition] = {}
    label, line, note = "", 0, text
    for token in tokens:
        if token.type == "footnote_reference_open":
            label, line = str(token.meta["label"]), token.map[0] + 1 if token.map else 1
            note = []
        elif token.type == "footnote_reference_close":
            if not note:
                raise refuse_empty(label, f"{where}, line {line}")
            if label in defined:
                raise _refuse_second(label, f"{where}, line {line}")
            defined[label], note = Definition(tuple(note), line), text
        else:
            note.append(token)
    return text, Notes(where, defined)


def refuse_empty(label: str, where: str) -> UserError:
    """Give the error for a footnote without words."""
    return UserError(
        f"The footnote [^{label}] says nothing.",
        where=where,
        remedy="Write its words behind the colon, or take it out.",
    )


def _refuse_second(label: str, where: str) -> UserError:
    return UserError(
        f"There is another footnote [^{label}] above.",
        where=where,
        remedy="Give this one a name of its own; the book numbers them itself.",
    )


def refuse_calls(text: str, what: str, where: str) -> None:
    """Raise UserError where a line that has no foot of its own calls a footnote."""
    found = _CALL.search(text)
    if found:
        raise UserError(
            f"{what} cannot have a footnote ({found[0]}).",
            where=where,
            remedy="Say it in the line itself, or in a text of the chapter.",
        )
