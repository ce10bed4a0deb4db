"""Names of places as a text has them, held against those the journey knows."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from wayfold.trip.town_names import fold_name

ONE_SLIP, TWO_SLIPS = 5, 9
"""From so many letters on, a name with one or two letters wrong is still told from others."""
_WORD = re.compile(r"[^\W\d_]+(?:[’'][^\W\d_]+)*")
_GAP = re.compile(r"\.?\s+|-")
_SENTENCE = re.compile(r"(?:[.!?…:\n]|^)\W*$")
_BEFORE = 8
"""So many signs before a word tell whether it opens a sentence."""
_SPELT_OUT = {"ä": "ae", "ö": "oe", "ü": "ue", "ß": "ss", "å": "aa", "ø": "oe", "æ": "ae"}
_PLAIN = {"ß": "ss", "ø": "o", "æ": "ae", "œ": "oe", "ł": "l", "đ": "d", "ð": "d", "þ": "th",
          "ı": "i"}  # fmt: skip
_ENDINGS = ("s", "n", "r", "e", "i", "er", "an", "ers", "en", "ns", "es", "is", "ese")
"""What languages hang on a name: Barcelonas, Berliner, Roman."""


@dataclass(frozen=True, slots=True)
class Spelling:
    """A name as a text has it.

    ``opens`` says that it begins a sentence; ``beside`` are the capitalised words next to it.
    """

    text: str
    opens: bool
    beside: tuple[str, ...] = ()


class KnownNames:
    """The journey's names, looked up however they are spelt."""

    def __init__(self, names: Iterable[str]) -> None:
        """Know ``names``; a later one spelt otherwise than an earlier is the same place."""
        self._exact: set[str] = set()
        self._folded: dict[str, str] = {}
        self._spelt_out: dict[str, str] = {}
        self._lengths: set[int] = set()
        for name in dict.fromkeys(" ".join(n.split()) for n in names if n.strip()):
            words = [m[0] for m in _WORD.finditer(name)]
            self._exact.update((name, *words))
            self._folded.setdefault(fold_letters(" ".join(words)), name)
            self._spelt_out.setdefault(spell_out(" ".join(words)), name)
            self._lengths.add(len(words))

    def list_spellings(self, text: str) -> Iterator[Spelling]:
        """Give every run of words as long as a known name that begins with a capital."""
        found = list(_WORD.finditer(text))
        for length in sorted(self._lengths):
            for start in range(len(found) - length + 1):
                first, last = found[start], found[start + length - 1]
                between = (
                    text[a.end() : b.start()] for a, b in pairwise(found[start : start + length])
                )
                if first[0][0].isupper() and all(_GAP.fullmatch(gap) for gap in between):
                    yield Spelling(
                        " ".join(text[first.start() : last.end()].split()),
                        _opens_sentence(text, first.start()),
                        tuple(_list_beside(text, found, start, start + length)),
                    )

    def find_lost_accents(self, spelling: str) -> str | None:
        """Give the known name that differs from ``spelling`` in accents, hyphens or ae for ä."""
        bare = without_possessive(spelling)
        if bare in self._exact or spelling in self._exact or bare.isupper():
            return None
        known = self._folded.get(fold_letters(bare)) or self._spelt_out.get(spell_out(bare))
        # Capitals alone are no other spelling.
        return None if known is None or known.lower() == bare.lower() else known

    def find_near_miss(self, spelling: str) -> str | None:
        """Give the known name that ``spelling`` misses by a letter or, if it is long, by two."""
        bare = without_possessive(spelling)
        if bare in self._exact or bare.isupper():
            return None
        words = fold_letters(bare).split()
        for name, known in self._folded.items():
            # Word by word: Cape Horn is no slip of Cape Town.
            pairs = list(zip(name.split(), words, strict=False))
            same = len(pairs) == len(words) == len(name.split())
            if same and name != " ".join(words) and all(_may_slip(*pair) for pair in pairs):
                return known
        return None


def fold_letters(name: str) -> str:
    """Give a name in plain small letters: ``trip.fold_name``, and ø, ł and their like too."""
    return fold_name("".join(_PLAIN.get(c, c) for c in name.casefold()))


def spell_out(name: str) -> str:
    """Give a name in plain small letters with ä as ae, as typed without these keys."""
    composed = unicodedata.normalize("NFC", name.casefold())
    return fold_letters("".join(_SPELT_OUT.get(c, c) for c in composed))


def count_slips(one: str, other: str, most: int) -> int:
    """Give how many letters were left out, put in, changed or swapped with the next.

    The restricted edit distance of F. J. Damerau, "A technique for computer detection and
    correction of spelling errors", 1964; beyond ``most`` it may give any greater number.
    """
    if abs(len(one) - len(other)) > most:
        return most + 1
    before: list[int] = []
    row = list(range(len(other) + 1))
    for i, a in enumerate(one, start=1):
        last, before, row = before, row, [i]
        for j, b in enumerate(other, start=1):
            best = min(before[j] + 1, row[j - 1] + 1, before[j - 1] + (a != b))
            if i > 1 and j > 1 and a == other[j - 2] and one[i - 2] == b:
                best = min(best, last[j - 2] + 1)
            row.append(best)
        if min(row) > most:
            return most + 1
    return row[-1]


def list_unlike(spellings: Mapping[str, object]) -> list[tuple[str, str]]:
    """Give pairs of spellings that differ in accents alone."""
    known: dict[str, str] = {}
    pairs = []
    for name in spellings:
        other = known.setdefault(fold_letters(name), name)
        if other != name and other.lower() != name.lower():
            pairs.append((other, name))
    return pairs


def without_possessive(spelling: str) -> str:
    """Give a name without what English hangs on it: Zürich for Zürich’s."""
    return re.sub(r"[’']s?$", "", spelling)


def _opens_sentence(text: str, at: int) -> bool:
    # A stretch that holds no word at all counts as an opening, too.
    return _SENTENCE.search(text[max(0, at - _BEFORE) : at]) is not None


def _list_beside(text: str, words: Sequence[re.Match[str]], start: int, end: int) -> Iterator[str]:
    for one, other, beside in ((start - 1, start, start - 1), (end - 1, end, end)):
        if one < 0 or other == len(words):
            continue
        if (
            words[beside][0][0].isupper()
            and text[words[one].end() : words[other].start()].isspace()
        ):
            yield words[beside][0]


def _may_slip(name: str, spelling: str) -> bool:
    """Whether a word is the name's, or misses it by no more letters than its length allows."""
    if name == spelling:
        return True
    allowed = (len(name) >= ONE_SLIP) + (len(name) >= TWO_SLIPS)
    if abs(len(name) - len(spelling)) > allowed or _differs_by_ending(name, spelling):
        return False
    return allowed > 0 and count_slips(name, spelling, allowed) <= allowed


def _differs_by_ending(name: str, spelling: str) -> bool:
    """Whether the longer is the shorter with an ending, or both change a last vowel for one."""
    stem = name[:-1] if name[-1:] in "aeio" else name
    return any(spelling == base + end for base in (name, stem) for end in _ENDINGS)
