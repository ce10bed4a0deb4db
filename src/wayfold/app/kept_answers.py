"""What laying out a book gave, kept from one run to the next: opening it does not lay it out anew.

Kept is how the book was last, each answer by the identity of all that it hangs on: the code that
can be reached, the libraries, and every value given. What is lost, torn or made by other code is
worked out again.
"""

from __future__ import annotations

import json
import typing
from collections.abc import Callable
from functools import cache
from typing import Any

from wayfold.app.code_reach import function_key
from wayfold.app.identity import library_key
from wayfold.base.errors import UserError
from wayfold.base.hashing import hash_values, plain
from wayfold.base.memory import Answer, Aside, Memory
from wayfold.base.revive import revive
from wayfold.project.cache import RecordCache
from wayfold.project.files import BookFolder

STAGE, EDITION = "answers", "last"


class KeptAnswers:
    """The answers that a book's cache has of the last run."""

    def __init__(self, folder: BookFolder) -> None:
        """Read from ``folder`` when first asked."""
        self._folder = folder
        self._records = RecordCache(folder.cache, STAGE, EDITION)
        self._keys: dict[int, tuple[tuple[Any, ...], str]] = {}
        self._found: set[str] = set()

    def find(self, do: Callable[..., Any], given: tuple[Any, ...]) -> Answer | None:
        """Give what was kept of ``do(*given)``; None for what was not, or is spoilt."""
        key = self._identify(do, given)
        data = self._records.get(key)
        if data is None:
            return None
        try:
            value = revive(json.loads(data), _read_kind(do))
        except ValueError:
            return None
        self._found.add(key)
        return Answer(do, given, value)

    def keep(self, memory: Memory) -> None:
        """Keep what ``memory`` has of its last round, and nothing else.

        A disk that refuses is no reason to stop: then all is worked out again next time.
        """
        answers = {self._identify(a.do, a.given): a for a in memory.list_lasting()}
        held = {id(answer.given) for answer in answers.values()}
        self._keys = {at: known for at, known in self._keys.items() if at in held}
        # Where the book is not there, as on a drive pulled out, no folder is made in its place.
        if answers.keys() == self._found or not self._folder.root.is_dir():
            return
        records = {key: _spell(answer.value) for key, answer in answers.items()}
        try:
            self._records.replace_all(records)
        except (UserError, OSError):
            return
        self._found = set(records)

    def _identify(self, do: Callable[..., Any], given: tuple[Any, ...]) -> str:
        """Give the identity of what is asked; of the very same asked again without looking."""
        known = self._keys.get(id(given))
        if known is None:
            reads = [None if isinstance(value, Aside) else value for value in given]
            key = hash_values(do.__qualname__, function_key(do), library_key(), reads)
            known = self._keys[id(given)] = (given, key)
        return known[1]


def _spell(value: object) -> bytes:
    return json.dumps(plain(value), ensure_ascii=False, separators=(",", ":")).encode()


@cache
def _read_kind(do: Callable[..., Any]) -> Any:
    return typing.get_type_hints(do)["return"]
