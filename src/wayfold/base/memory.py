"""What was worked out before, by what it was worked out from.

A function that gives the same for the same need not be asked twice. What it is given is compared by
value, so it must be given all that it reads, and no more: then an edit works out anew only what it
touches, and gives just what working out everything would.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterator
from dataclasses import dataclass, field
from typing import Any, Generic, Protocol, TypeVar, TypeVarTuple

T = TypeVar("T")
Given = TypeVarTuple("Given")

DEPTH = 4
"""So many answers are kept of each question: an edit and undoing it go back and forth."""
LASTING = 16
"""What was not asked for in so many rounds is forgotten."""


@dataclass(frozen=True, slots=True)
class Aside(Generic[T]):
    """Something a function needs that has no say in its answer, as who watches its progress."""

    value: T = field(compare=False)


@dataclass(frozen=True, slots=True)
class Answer:
    """What a function gave for what it was given."""

    do: Callable[..., Any]
    given: tuple[Any, ...]
    value: Any


class Before(Protocol):
    """The answers of an earlier run, so far as they were kept."""

    def find(self, do: Callable[..., Any], given: tuple[Any, ...]) -> Answer | None:
        """Give what ``do(*given)`` gave, or None where that was not kept."""


class _Slot:
    """The answers to one question, the last first, each with what it was asked with."""

    __slots__ = ("asked", "kept", "lasting")

    def __init__(self) -> None:
        self.kept: tuple[tuple[tuple[Any, ...], Any], ...] = ()
        self.asked = 0
        self.lasting = False


class Memory:
    """Remembers what pure functions gave.

    Threads may share it: at worst, something is worked out twice.
    """

    def __init__(self, before: Before | None = None) -> None:
        """``before`` has answers of an earlier run, for the first round."""
        self._slots: dict[tuple[object, Hashable], _Slot] = {}
        self._round = 0
        self._before = before

    def begin(self) -> None:
        """Begin a round of working out; what has long not been asked for is forgotten."""
        self._round += 1
        if self._round > 1:
            self._before = None  # it was kept of how the book was opened
        least = self._round - LASTING
        for key, slot in list(self._slots.items()):
            if slot.asked < least:
                self._slots.pop(key, None)

    def recall(self, do: Callable[[*Given], T], *given: *Given, at: Hashable = None) -> T:
        """Give ``do(*given)``, remembered where it was asked with equal values before.

        ``do`` is a pure function of a module, or a class; ``at`` tells apart what it is asked of: a
        page, a block. An answer that equals an earlier one is that one, the same object, so that
        whoever compares what is made of it sees at once that nothing changed.
        """
        slot = self._find(do, at)
        for asked, answer in slot.kept:
            if asked == given:
                known: T = answer
                slot.kept = ((given, known), *(k for k in slot.kept if k[1] is not known))[:DEPTH]
                return known
        before = self._before.find(do, given) if slot.lasting and self._before else None
        made = _find_equal(before.value if before else do(*given), slot)
        slot.kept = ((given, made), *slot.kept)[:DEPTH]
        return made

    def recall_lasting(self, do: Callable[[*Given], T], *given: *Given, at: Hashable = None) -> T:
        """Do as ``recall``, and remember from one run to the next.

        What it is given must have an identity as ``hash_values`` gives it (what is ``Aside`` has no
        part in it), and what it gives must come back through ``revive``.
        """
        self._find(do, at).lasting = True
        return self.recall(do, *given, at=at)

    def list_lasting(self) -> Iterator[Answer]:
        """Give the last answer to each question that is to last and was asked in this round."""
        for (do, _), slot in list(self._slots.items()):
            if slot.lasting and slot.asked == self._round and slot.kept and callable(do):
                yield Answer(do, *slot.kept[0])

    def keep(self, value: T, at: Hashable) -> T:
        """Give ``value``, or the one kept at the same place before where that is equal."""
        slot = self._find(None, at)
        kept = _find_equal(value, slot)
        slot.kept = (((), kept), *(k for k in slot.kept if k[1] is not kept))[:DEPTH]
        return kept

    def forget(self) -> None:
        """Let go of all answers. Some of them hold this memory, so that it would long stay."""
        self._slots.clear()

    def _find(self, do: object, at: Hashable) -> _Slot:
        slot = self._slots.setdefault((do, at), _Slot())
        slot.asked = self._round
        return slot


def _find_equal(value: T, slot: _Slot) -> T:
    return next((before for _, before in slot.kept if before == value), value)
