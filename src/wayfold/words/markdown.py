"""CommonMark becomes styled paragraphs; what print cannot show is refused, never dropped."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from markdown_it.token import Token

from wayfold.base.errors import UserError
from wayfold.drawing.text import Align, Paragraph, Run, TextStyle
from wayfold.words.notes import Notes, refuse_empty, take_notes
from wayfold.words.punctuation import make_reader, set_spaces, tie_numbers

BULLET = "–\N{EN SPACE}"
BULLET_HANG, ORDERED_HANG = 1.0, 1.5
"""Where the lines of a list's items begin, in ems: behind a rule, behind a number."""
BREAK_SIGN = "*\N{EM SPACE}*\N{EM SPACE}*"


@dataclass(frozen=True, slots=True)
class TextStyles:
    """The styles a text is set in."""

    body: TextStyle
    heading: TextStyle
    note: TextStyle | None = None
    """That of footnotes; None where the text has no foot to put them at."""


@dataclass(slots=True)
class _State:
    where: str
    styles: TextStyles
    notes: Notes | None = None
    """The text's footnotes; None inside one."""
    paragraphs: list[Paragraph] = field(default_factory=list)
    lists: list[tuple[bool, int]] = field(default_factory=list)
    quotes: int = 0
    item_opens: bool = False
    after_break: bool = True
    """Whether the next paragraph begins something, and so stands without an indent."""


def set_markdown(text: str, styles: TextStyles, where: str) -> tuple[Paragraph, ...]:
    """Give the paragraphs of a Markdown text; ``where`` names its file in errors.

    Emphasis of either strength becomes italic, headings a line of small capitals, quotations
    italic paragraphs with air, list items paragraphs behind an en rule or their number, a
    thematic break three asterisks. Links keep their words; footnotes are with the run that calls
    them. Raises UserError with the line for raw HTML, for pictures, which have no place in a text,
    and for footnotes that are not called, not written, written twice or called by another.
    """
    tokens, notes = take_notes(make_reader(styles.body.language).parse(text), where)
    state = _State(where, styles, notes)
    for token in tokens:
        _read_block(token, state)
    notes.refuse_uncalled()
    return tuple(state.paragraphs)


def _read_block(token: Token, state: _State) -> None:
    match token.type:
        case "inline":
            _add_inline(token, state)
        case "heading_open":
            state.after_break = True
            state.item_opens = False
        case "heading_close":
            _make_heading(state)
        case "blockquote_open" | "blockquote_close":
            state.quotes += 1 if token.nesting > 0 else -1
            state.after_break = True
        case "bullet_list_open" | "ordered_list_open":
            start = token.attrGet("start")
            ordered = token.type == "ordered_list_open"
            state.lists.append((ordered, int(start) if start is not None else 1))
            state.after_break = True
        case "bullet_list_close" | "ordered_list_close":
            state.lists.pop()
            state.after_break = True
        case "list_item_open":
            state.item_opens = True
        case "list_item_close":
            ordered, number = state.lists[-1]
            state.lists[-1] = (ordered, number + 1)
        case "hr":
            air = state.styles.body.leading_pt / 2 if state.paragraphs else 0.0
            style = replace(state.styles.body, align=Align.CENTER, space_before_pt=air)
            state.paragraphs.append(Paragraph((Run(BREAK_SIGN),), style))
            state.after_break = True
        case "fence" | "code_block":
            _add_lines(token, state)
        case "html_block":
            raise _refuse("Raw HTML", token.map[0] + 1 if token.map else 1, state.where)
        case _:
            pass


def _add_inline(token: Token, state: _State) -> None:
    first_line = token.map[0] + 1 if token.map else 1
    runs = _read_runs(token.children or (), first_line, state)
    if not runs:
        return
    body = state.styles.body
    if state.lists:
        ordered, number = state.lists[-1]
        hanging_pt = (ORDERED_HANG if ordered else BULLET_HANG) * body.size_pt
        if state.item_opens:
            sign = f"{number}.\N{EN SPACE}" if ordered else BULLET
            runs = (Run(sign, width_pt=hanging_pt), *runs)
        style = replace(body, align=Align.LEFT, hanging_pt=hanging_pt)
    elif state.quotes:
        air = body.leading_pt / 2 if state.after_break and state.paragraphs else 0.0
        style = replace(body, italic=True, space_before_pt=air)
    else:
        style = body
    first = state.after_break or state.item_opens or not state.paragraphs
    if not first:
        style = replace(style, first_indent_pt=style.hanging_pt or body.size_pt)
    elif state.paragraphs and state.after_break and not state.quotes and _wants_air(state, style):
        style = replace(style, space_before_pt=body.leading_pt / 2)
    state.paragraphs.append(Paragraph(runs, style))
    state.after_break = state.item_opens = False


def _wants_air(state: _State, style: TextStyle) -> bool:
    """Whether a quotation, heading or break has just ended, or a list begins or has ended.

    Half a line before it and half a line after it bring the text back on its lines.
    """
    before = state.paragraphs[-1].style
    parted = before.italic or before.small_caps or before.align is Align.CENTER
    return parted or bool(before.hanging_pt) != bool(style.hanging_pt)


def _make_heading(state: _State) -> None:
    if not state.paragraphs:
        return
    style = state.styles.heading
    # With half a line below, heading and air together take whole lines of the body.
    air = 1.5 * state.styles.body.leading_pt if len(state.paragraphs) > 1 else 0.0
    style = replace(style, leading_pt=state.styles.body.leading_pt, space_before_pt=air)
    state.paragraphs[-1] = Paragraph(state.paragraphs[-1].runs, style, heads=True)
    state.after_break = True


def _add_lines(token: Token, state: _State) -> None:
    lines = token.content.rstrip("\n").split("\n")
    runs = tuple(Run(line, line_break=i + 1 < len(lines)) for i, line in enumerate(lines))
    style = replace(state.styles.body, align=Align.LEFT, hyphenate=False)
    state.paragraphs.append(Paragraph(runs, style))
    state.after_break = True


def _read_runs(children: Sequence[Token], line: int, state: _State) -> tuple[Run, ...]:
    runs: list[Run] = []
    depth = 0
    for child in children:
        match child.type:
            case "em_open" | "strong_open":
                depth += 1
            case "em_close" | "strong_close":
                depth -= 1
            case "text" | "code_inline" | "text_special":
                if child.content:
                    words = set_spaces(child.content, state.styles.body.language)
                    # Emphasis within an italic quotation turns back to roman.
                    runs.append(Run(words, italic=(state.quotes == 0) if depth else None))
            case "softbreak":
                line += 1
                runs.append(Run(" "))
            case "hardbreak":
                line += 1
                if runs:
                    runs[-1] = replace(runs[-1], line_break=True)
            case "footnote_ref":
                runs.append(_call_note(str(child.meta["label"]), line, state))
            case "html_inline":
                raise _refuse("Raw HTML", line, state.where)
            case "image":
                raise _refuse("A picture", line, state.where)
            case _:
                pass
    language = state.styles.body.language
    return tuple(replace(run, text=tie_numbers(run.text, language)) for run in _join(runs))


def _call_note(label: str, line: int, state: _State) -> Run:
    """Give the figure that calls a footnote, with the footnote at its first call."""
    where = f"{state.where}, line {line}"
    if state.notes is None:
        raise UserError(
            f"The footnote [^{label}] is called by another.",
            where=where,
            remedy="Say both in one, or call it from the text.",
        )
    if state.styles.note is None:
        raise UserError(
            f"This text has no foot for a footnote ([^{label}]).",
            where=where,
            remedy="Say it in the text itself.",
        )
    number, written = state.notes.call(label, line)
    if written is None:
        return Run(str(number), italic=False, superior=True)
    style = state.styles.note
    inner = _State(state.where, TextStyles(style, replace(style, italic=True)))
    for token in written.tokens:
        _read_block(token, inner)
    if not inner.paragraphs:  # there is something, but nothing of it is words
        raise refuse_empty(label, f"{state.where}, line {written.line}")
    first, *more = inner.paragraphs
    first = replace(first, runs=(Run(f"{number}\N{EN SPACE}"), *first.runs))
    return Run(str(number), italic=False, superior=True, note=(first, *more))


def _join(runs: Sequence[Run]) -> tuple[Run, ...]:
    joined: list[Run] = []
    for run in runs:
        last = joined[-1] if joined else None
        if last and replace(last, text=run.text) == run and not (last.line_break or last.superior):
            joined[-1] = replace(run, text=last.text + run.text)
        else:
            joined.append(run)
    return tuple(joined)


def _refuse(what: str, line: int, where: str) -> UserError:
    if what == "A picture":
        remedy = "Take it out; photographs get their places from the story."
    else:
        remedy = "Write it in Markdown (*italic*, # heading, > quotation), or put \\ before the <."
    return UserError(
        f"{what} cannot be printed from a text.", where=f"{where}, line {line}", remedy=remedy
    )
