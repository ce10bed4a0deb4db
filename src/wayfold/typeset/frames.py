"""Threading a text through frames: where paragraphs are cut when a frame is full."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from wayfold.drawing.text import Paragraph, Run
from wayfold.typeset.pieces import join_pieces, list_pieces, strip_end

_ROUNDING_PT = 0.01

CountLines = Callable[[Paragraph], int]
"""How many lines a paragraph takes."""
FitPieces = Callable[[Sequence[tuple[Run, ...]], Paragraph, int], int]
"""How many of the pieces of a paragraph fill no more than that many lines."""


@dataclass(frozen=True, slots=True)
class _Cut:
    head: Paragraph | None
    tail: Paragraph | None


def fill_frames(
    paragraphs: Sequence[Paragraph],
    heights_pt: Sequence[float],
    count_lines: CountLines,
    fit_pieces: FitPieces,
) -> tuple[tuple[Paragraph, ...], ...]:
    """Give one tuple of paragraphs a frame, and one with what is left over.

    A cut leaves at least two lines of a paragraph on either side (no widow, no orphan), and a
    heading goes on with what it heads, unless the frame would stay empty otherwise.
    """
    left = list(paragraphs)
    frames: list[tuple[Paragraph, ...]] = []
    for height_pt in heights_pt:
        frame: list[Paragraph] = []
        room_pt = height_pt + _ROUNDING_PT
        while left:
            paragraph = left[0]
            style = paragraph.style
            room_pt -= style.space_before_pt if frame else 0.0
            lines, most = count_lines(paragraph), int(room_pt // style.leading_pt)
            if lines <= most:
                frame.append(left.pop(0))
                room_pt -= lines * style.leading_pt
                continue
            keep = choose_lines(lines, most, alone=not frame)
            cut = cut_paragraph(paragraph, keep, count_lines, fit_pieces)
            if cut.tail is not None and keep > 1 and count_lines(cut.tail) < 2:
                # Set apart, the head has taken in more words than its lines had in the whole.
                keep = choose_lines(keep + 1, most, alone=not frame)
                cut = cut_paragraph(paragraph, keep, count_lines, fit_pieces)
            if cut.head is not None:
                frame.append(cut.head)
                left[:1] = [] if cut.tail is None else [cut.tail]
            break
        heading = next((i for i, p in enumerate(reversed(frame)) if not p.heads), 0)
        if left and heading:
            frame, left = frame[:-heading], [*frame[-heading:], *left]
        frames.append(tuple(frame))
    return (*frames, tuple(left))


def choose_lines(lines: int, most: int, *, alone: bool) -> int:
    """Give how many of a paragraph's lines to set where only ``most`` find room.

    ``alone`` says that nothing else stands in the frame yet.
    """
    keep = max(0, min(most, lines - 2))
    if keep >= 2:
        return keep
    return max(0, min(most, lines - 1)) if alone else 0


def cut_paragraph(
    paragraph: Paragraph, lines: int, count_lines: CountLines, fit_pieces: FitPieces
) -> _Cut:
    """Cut a paragraph after ``lines`` lines, between words."""
    whole = _Cut(None, paragraph)
    if lines < 1:
        return whole
    pieces = list_pieces(paragraph.runs)
    count = fit_pieces(pieces, paragraph, lines)
    while count > 0:
        head, tail = join_pieces(pieces[:count]), join_pieces(pieces[count:])
        if not tail:
            return _Cut(paragraph, None)
        at_break = tail[0].line_break and not tail[0].text
        first = replace(paragraph, runs=strip_end(head), continues=not at_break)
        # The pieces were tried joined as they are; the head is set anew, so it is counted anew.
        if count_lines(first) <= lines:
            style = replace(
                paragraph.style, first_indent_pt=paragraph.style.hanging_pt, space_before_pt=0.0
            )
            return _Cut(first, replace(paragraph, runs=tail[1:] if at_break else tail, style=style))
        count -= 1
    return whole
