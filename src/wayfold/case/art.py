"""What is printed on the cover: lettering in the book's style on its sides, its spine, its labels.

Piece space: mm from the top left corner of the piece as it lies before it is glued, outside up.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from wayfold.base.geometry import Affine, Point, Rect, Size
from wayfold.base.units import mm_from_pt, pt_from_mm
from wayfold.book.casing import SpineTurn
from wayfold.book.state import Book
from wayfold.case.lettering import (
    LETTER_EM,
    CoverPicture,
    Lettering,
    longest_word,
    resize,
    style_author,
    style_spine,
    style_subtitle,
    style_title,
)
from wayfold.case.measure import CaseMeasures
from wayfold.case.spine_turn import choose_spine_turn
from wayfold.drawing.colour import Colour
from wayfold.drawing.items import Contour, Drawing, Item, Picture, Placed, Shape, Stroke, Text
from wayfold.drawing.text import Align, Paragraph, Run, TextStyle, VerticalAlign

FRAME_IN, FRAME_GAP = 9.0, 1.7
"""The frame inside the edge of its panel, and between its two lines; ours."""
FRAME_WIDE, FRAME_FINE = 0.5, 0.2
"""Light lines on a dark ground close up on cloth and matte paper: none is finer; from memory."""
PICTURE_ASPECTS = (0.75, 1.5)
"""The narrowest and the widest photograph on a cover; others are cut to it at their edges."""
SPINE_LEAST = 7.0
"""No title is put on a narrower spine (mm); common practice starts at 6 to 8."""
SPINE_LABEL_MAX = 26.0
SPINE_LETTER_LEAST_PT = 6.0
LABEL = Size(96.0, 58.0)
"""A title label for a plain cloth board, for a page of A4; it scales with the page."""


@dataclass(frozen=True, slots=True)
class ArtPiece:
    """A printed piece of the cover: its name, and its drawing as large as the piece."""

    name: str
    drawing: Drawing


def draw_sides(case: CaseMeasures, letters: Lettering) -> tuple[ArtPiece, ...]:
    """Draw the front and the back side of a cover whose spine is a piece of its own."""
    size, turn_in = case.side, case.casing.turn_in
    assert size is not None
    width, height = size.width - turn_in, case.board.height
    front = Rect(0.0, turn_in, width, height)
    back = Rect(turn_in, turn_in, width, height)
    return (
        ArtPiece("front side", _finish("front side", size, letters, _draw_front(front, letters))),
        ArtPiece("back side", _finish("back side", size, letters, _draw_back(back, letters))),
    )


def draw_spine_strip(case: CaseMeasures, letters: Lettering, turn: SpineTurn) -> ArtPiece:
    """Draw the printed cloth of a spine, with its title in the middle."""
    size = case.wrap
    panel = Rect(
        (size.width - case.spine.width) / 2,
        case.casing.turn_in,
        case.spine.width,
        case.board.height,
    )
    items = _draw_spine(panel, letters, turn)
    return ArtPiece("spine", _finish("spine", size, letters, items))


def draw_wrap(case: CaseMeasures, letters: Lettering, turn: SpineTurn) -> ArtPiece:
    """Draw a cover in one piece: back, spine and front side by side."""
    turn_in, board, between = case.casing.turn_in, case.board, case.between_boards
    back = Rect(turn_in, turn_in, board.width, board.height)
    spine = Rect(back.right + case.joint, turn_in, case.spine.width, board.height)
    front = Rect(back.right + between, turn_in, board.width, board.height)
    items = (
        *_draw_back(back, letters),
        *_draw_spine(spine, letters, turn),
        *_draw_front(front, letters),
    )
    return ArtPiece("cover", _finish("cover", case.wrap, letters, items))


def draw_labels(case: CaseMeasures, letters: Lettering, turn: SpineTurn) -> tuple[ArtPiece, ...]:
    """Draw the labels for plain cloth: one for the front board, one for the spine."""
    scale = case.block.page.width / 210.0
    size = Size(LABEL.width * scale, LABEL.height * scale)
    front = Rect(0.0, 0.0, size.width, size.height)
    items = (*_draw_frame(front, letters, 3.0), *_write_label(front, letters))
    labels = [ArtPiece("front label", _finish("front label", size, letters, items))]
    return (*labels, *draw_spine_label(case, letters, turn))


def draw_spine_label(
    case: CaseMeasures, letters: Lettering, turn: SpineTurn
) -> tuple[ArtPiece, ...]:
    """Draw the label of a spine; none for a spine too narrow for letters."""
    if case.spine.width < SPINE_LEAST:
        return ()
    width = min(case.spine.width - 2.0, SPINE_LABEL_MAX)
    style = style_spine(case.spine.width, letters)
    length = min(len(letters.title) * LETTER_EM * mm_from_pt(style.size_pt) + 16.0, 200.0)
    size = Size(width, length)
    panel = Rect(0.0, 0.0, width, length)
    title = _write_along(panel, letters.title, style, turn, "spine title")
    lines = [
        _line(Point(0.8, y), Point(width - 0.8, y), Stroke(letters.ink, FRAME_FINE))
        for y in (2.2, length - 2.2)
    ]
    return (ArtPiece("spine label", _finish("spine label", size, letters, (*lines, title))),)


def spine_title_size(case: CaseMeasures, letters: Lettering) -> float:
    """Give the letter size (pt) of the title on a spine; 0 where there is no room for any."""
    if case.spine.width < SPINE_LEAST:
        return 0.0
    style = style_spine(case.spine.width, letters)
    room = pt_from_mm(0.6 * case.board.height)
    size = min(style.size_pt, room / (LETTER_EM * max(1, len(letters.title))))
    return size if size >= SPINE_LETTER_LEAST_PT else 0.0


def turn_of(book: Book) -> SpineTurn:
    """Give the direction of a book's spine title."""
    return choose_spine_turn(book.bench.casing.spine_turn, book.language)


def _finish(
    name: str, size: Size, letters: Lettering, items: tuple[Item, ...] | Iterator[Item]
) -> Drawing:
    ground: tuple[Item, ...] = ()
    if letters.ground is not None:
        ground = (_fill(Rect(0.0, 0.0, size.width, size.height), letters.ground),)
    return Drawing(name, size, 0.0, (*ground, *items))


def _draw_front(panel: Rect, letters: Lettering) -> Iterator[Item]:
    yield from _draw_frame(panel, letters, FRAME_IN)
    inside = panel.grown(-FRAME_IN - FRAME_GAP - 5.0)
    high = 0.17 if letters.picture or letters.ornament else 0.26
    head = Rect(inside.x, inside.y + 0.08 * inside.height, inside.width, high * inside.height)
    title = Paragraph((Run(letters.title),), style_title(inside.width, letters))
    yield Text(head, (title,), "cover title", VerticalAlign.BOTTOM)
    if letters.subtitle:
        # Narrower than the title, so that no word is left alone on a second line.
        wide = 0.74 * inside.width
        box = Rect(inside.center.x - wide / 2, head.bottom + 4.0, wide, 0.2 * inside.height)
        yield Text(box, (Paragraph((Run(letters.subtitle),), style_subtitle(letters)),), "subtitle")
    if letters.picture is not None:
        yield from _draw_picture(inside, letters.picture, letters)
    elif letters.ornament is not None:
        yield _place_ornament(_find_room(inside), letters.ornament)
    if letters.author:
        middle = inside.center.x
        y = inside.bottom - 17.0
        rule = Stroke(letters.ink, FRAME_FINE)
        yield _line(Point(middle - 9.0, y), Point(middle + 9.0, y), rule)
        box = Rect(inside.x, y + 3.5, inside.width, 8.0)
        yield Text(box, (Paragraph((Run(letters.author),), style_author(letters)),), "cover author")


def _draw_picture(inside: Rect, picture: CoverPicture, letters: Lettering) -> Iterator[Item]:
    """Let a photograph into the lower part of a front, its middle kept, with a line about it."""
    room = _find_room(inside)
    aspect = min(max(picture.aspect, PICTURE_ASPECTS[0]), PICTURE_ASPECTS[1])
    width = min(room.width, room.height * aspect)
    height = width / aspect
    box = Rect(room.center.x - width / 2, room.y + (room.height - height) / 2, width, height)
    across, down = min(1.0, aspect / picture.aspect), min(1.0, picture.aspect / aspect)
    crop = Rect((1 - across) / 2, (1 - down) / 2, across, down)
    yield Picture(box, picture.asset, crop)
    yield _outline(box.grown(FRAME_GAP), Stroke(letters.ink, FRAME_FINE))


def _find_room(inside: Rect) -> Rect:
    """The part of a front under its title that a picture or an ornament has."""
    x, y = inside.x + 0.06 * inside.width, inside.y + 0.41 * inside.height
    return Rect(x, y, 0.88 * inside.width, 0.43 * inside.height)


def _place_ornament(room: Rect, ornament: Drawing) -> Placed:
    size = ornament.size
    scale = min(room.width / size.width, room.height / size.height)
    shift = Affine.shift(
        room.center.x - scale * size.width / 2, room.center.y - scale * size.height / 2
    )
    return Placed(ornament, Affine.scale(scale).then(shift))


def _draw_back(panel: Rect, letters: Lettering) -> Iterator[Item]:
    yield from _draw_frame(panel, letters, FRAME_IN)
    middle = panel.center
    yield _line(
        Point(middle.x - 9.0, middle.y),
        Point(middle.x + 9.0, middle.y),
        Stroke(letters.ink, FRAME_FINE),
    )


def _draw_spine(panel: Rect, letters: Lettering, turn: SpineTurn) -> Iterator[Item]:
    if panel.width < SPINE_LEAST:
        return
    rule = Stroke(letters.ink, FRAME_FINE)
    for y in (panel.y + FRAME_IN, panel.bottom - FRAME_IN):
        yield _line(Point(panel.x + 1.0, y), Point(panel.right - 1.0, y), rule)
    style = style_spine(panel.width, letters)
    room = panel.height - 2 * FRAME_IN - 8.0
    need = LETTER_EM * max(1, len(letters.title))
    style = resize(style, min(style.size_pt, pt_from_mm(0.6 * room) / need))
    box = Rect(panel.x, panel.y + FRAME_IN + 4.0, panel.width, room)
    first, second = (Align.LEFT, Align.RIGHT)
    yield _write_along(box, letters.title, replace(style, align=first), turn, "spine title")
    if letters.author:
        quiet = resize(replace(style, italic=True, align=second), 0.68 * style.size_pt)
        yield _write_along(box, letters.author, quiet, turn, "spine author")


def _write_along(panel: Rect, words: str, style: TextStyle, turn: SpineTurn, key: str) -> Text:
    """Write words along an upright panel; they read from head to tail, or from tail to head."""
    middle = panel.center
    box = Rect(middle.x - panel.height / 2, middle.y - panel.width / 2, panel.height, panel.width)
    turn_deg = -90.0 if turn is SpineTurn.TAIL_TO_HEAD else 90.0
    paragraph = Paragraph((Run(words),), style)
    return Text(box, (paragraph,), key, VerticalAlign.MIDDLE, turn_deg)


def _write_label(panel: Rect, letters: Lettering) -> Iterator[Item]:
    inside = panel.grown(-8.0)
    size = min(20.0, pt_from_mm(inside.width) / (LETTER_EM * longest_word(letters.title)))
    title = replace(style_title(inside.width, letters), size_pt=size, leading_pt=1.15 * size)
    words = [Paragraph((Run(letters.title),), title)]
    if letters.author:
        words.append(Paragraph((Run(letters.author),), resize(style_author(letters), 9.0)))
    yield Text(inside, tuple(words), "label", VerticalAlign.MIDDLE)


def _draw_frame(panel: Rect, letters: Lettering, inset: float) -> Iterator[Item]:
    yield _outline(panel.grown(-inset), Stroke(letters.ink, FRAME_WIDE))
    yield _outline(panel.grown(-inset - FRAME_GAP), Stroke(letters.ink, FRAME_FINE))


def _corners(rect: Rect) -> Contour:
    return Contour(
        (
            Point(rect.x, rect.y),
            Point(rect.right, rect.y),
            Point(rect.right, rect.bottom),
            Point(rect.x, rect.bottom),
        ),
        closed=True,
    )


def _outline(rect: Rect, stroke: Stroke) -> Shape:
    return Shape((_corners(rect),), stroke=stroke)


def _fill(rect: Rect, colour: Colour) -> Shape:
    return Shape((_corners(rect),), colour)


def _line(start: Point, end: Point, stroke: Stroke) -> Shape:
    return Shape((Contour((start, end)),), stroke=stroke)
