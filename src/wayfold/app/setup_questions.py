"""The questions of setting up: paper, printer, translucent paper, thread."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict, dataclass
from typing import Any, Literal

from wayfold.base.geometry import Size
from wayfold.base.mends import Mend
from wayfold.book.materials import BackOrder, Duplex, Feed, Grain, LeafInk
from wayfold.book.state import Book
from wayfold.project.materials_file import Material

LEAVES, TURNS = 10, 10
"""What the measuring sheet asks for: so many leaves pressed together, so many turns of thread."""
Kind = Literal["entry", "number", "size", "choice", "text"]
ENTRY: Kind = "entry"
NUMBER: Kind = "number"
SIZE: Kind = "size"
CHOICE: Kind = "choice"
TEXT: Kind = "text"


@dataclass(frozen=True, slots=True)
class Question:
    """One question. ``kind`` is entry, number, size ("483 × 329"), choice or text.

    ``default`` is what stands now; None: nothing does, and the question may be left open.
    """

    key: str
    words: str
    kind: Kind
    default: str | None = None
    choices: tuple[str, ...] = ()
    help: str = ""

    def to_json(self) -> dict[str, Any]:
        """Give it as plain values."""
        return asdict(self)


def ask_questions(
    book: Book, materials: Mapping[tuple[str, str], Material]
) -> tuple[Question, ...]:
    """Give all questions, with what stands in ``book`` as their defaults."""

    def names(kind: str) -> tuple[str, ...]:
        return tuple(name for k, name in materials if k == kind)

    paper, veil, printer, sewing = book.paper, book.translucent, book.printer, book.bench.sewing
    thickness = (
        "Press ten leaves together and measure them with callipers; the measuring sheet shows how. "
        "Leave it open if you cannot yet."
    )
    entry = "A name, or nothing to go on as it stands. What you answer further on goes before it."
    return (
        Question("paper.use", "Which paper?", ENTRY, None, names("paper"), entry),
        _size("paper.sheet_mm", "How large is its sheet, in mm?", paper.sheet),
        _number("paper.grammage_gsm", "What does it weigh, in g/m²?", paper.grammage_gsm),
        _number("paper.ten_leaves_mm", "How thick are ten leaves, in mm?", None, thickness),
        Question(
            "paper.grain",
            "Along which side of the sheet does the grain run?",
            CHOICE,
            paper.grain.value,
            tuple(Grain),
            "Bend it both ways: it gives more easily about an axis along the grain.",
        ),
        Question("printer.use", "Which printer is nearest to yours?", ENTRY, None,
                 names("printer"), entry),
        Question("printer.name", "What do you call your printer?", TEXT, printer.name),
        *(
            _number(
                f"printer.margin_{edge}_mm",
                f"What stays white at the {where}, the sheet lying landscape, in mm?",
                getattr(printer, f"margin_{edge}"),
                f"The registration sheet tells it ({Mend.REGISTER}).",
            )
            for edge, where in (
                ("left", "left edge"),
                ("right", "right edge"),
                ("head", "head"),
                ("foot", "foot"),
            )
        ),
        Question("printer.duplex", "How does it print the back?", CHOICE, printer.duplex.value,
                 tuple(Duplex), "manual: it prints one side, and you turn the pile."),
        Question("printer.back_order", "By hand: in which order are the backs drawn in?", CHOICE,
                 printer.back_order.value, tuple(BackOrder), "Two numbered sheets tell."),
        Question("printer.feed", "Which edge goes in first?", CHOICE, printer.feed.value,
                 tuple(Feed)),
        Question("translucent.use", "Which translucent paper?", ENTRY, None,
                 names("translucent"), entry),
        _size("translucent.sheet_mm", "How large is its sheet, in mm?", veil.sheet),
        _number("translucent.grammage_gsm", "What does it weigh, in g/m²?", veil.grammage_gsm),
        _number("translucent.ten_leaves_mm", "How thick are ten leaves, in mm?", None, thickness),
        Question("translucent.ink", "Which of its sides take ink?", CHOICE, veil.ink.value,
                 tuple(LeafInk), "one-side mirrors a leaf, which is read through: softer."),
        Question("sewing.use_thread", "Which thread?", ENTRY, None, names("thread"), entry),
        _number(
            "sewing.ten_turns_mm",
            "How wide are ten turns of the thread side by side, in mm?",
            None if sewing.thread is None else sewing.thread * TURNS,
            "Wrap them closely round a pencil. Leave it open to reckon with the thread's number.",
        ),
    )  # fmt: skip


def _size(key: str, words: str, size: Size) -> Question:
    return Question(key, words, SIZE, f"{size.width:g} × {size.height:g}")


def _number(key: str, words: str, value: float | None, note: str = "") -> Question:
    return Question(key, words, NUMBER, None if value is None else f"{value:g}", help=note)
