"""Taking a paragraph's runs apart where a line may end, and putting them together again."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from wayfold.drawing.text import Run
from wayfold.typeset.letters import split_lines

_LONGEST_WORD = 40
"""A longer stretch without a space (Chinese, Thai, an address) may be cut between any letters."""
_WORD = re.compile(r"[^ \t]*[ \t]+(?:[–—][ \t]+)?|[^ \t]+")
"""A word with the spaces after it; a dash between spaces stays with the word before it."""
_BREAK = Run(line_break=True)


def list_pieces(runs: Iterable[Run]) -> list[tuple[Run, ...]]:
    """Take runs apart into pieces between which the text may be cut.

    A piece ends after a space or before a line break; joined, the pieces are the same text.
    """
    pieces: list[tuple[Run, ...]] = []
    piece: list[Run] = []
    for atom, cut_after in _list_atoms(runs):
        if atom.line_break and piece:
            pieces.append(tuple(piece))
            piece = []
        piece.append(atom)
        if cut_after:
            pieces.append(tuple(piece))
            piece = []
    return [*pieces, tuple(piece)] if piece else pieces


def join_pieces(pieces: Sequence[Sequence[Run]]) -> tuple[Run, ...]:
    """Put pieces together, neighbours of one look as one run."""
    joined: list[Run] = []
    for piece in pieces:
        for run in piece:
            last = joined[-1] if joined else None
            if last is not None and last.text and run.text and replace(last, text=run.text) == run:
                joined[-1] = replace(last, text=last.text + run.text)
            else:
                joined.append(run)
    return tuple(joined)


def strip_end(runs: Sequence[Run]) -> tuple[Run, ...]:
    """Take the spaces off the end of a text; runs left empty go."""
    kept = list(runs)
    while kept and not kept[-1].leader and not kept[-1].line_break:
        text = kept[-1].text.rstrip(" \t")
        if text:
            kept[-1] = replace(kept[-1], text=text)
            break
        kept.pop()
    return tuple(kept)


def _list_atoms(runs: Iterable[Run]) -> Iterator[tuple[Run, bool]]:
    for run in runs:
        look = replace(run, text="", leader=False, line_break=False)
        if run.leader:
            yield replace(look, leader=True), False
        for i, line in enumerate(split_lines(run.text)):
            if i:
                yield _BREAK, False
            for word in _WORD.findall(line):
                if len(word) <= _LONGEST_WORD:
                    yield replace(look, text=word), word[-1] in " \t"
                    continue
                for letter in _list_letters(word):
                    yield replace(look, text=letter), True
        if run.line_break:
            yield _BREAK, False


def _list_letters(word: str) -> Iterator[str]:
    letter = ""
    for sign in word:
        # Marks, joiners and what a joiner joins stay with the letter before them.
        if letter and unicodedata.category(sign)[0] not in "MC" and letter[-1] != "\u200d":
            yield letter
            letter = ""
        letter += sign
    yield letter
