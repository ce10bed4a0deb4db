"""The flatplan as plain text: each gathering as nested sheets, leaf by leaf from front to back.

A row is a leaf with its recto and verso; the brackets at the left are the sheets, so the two
leaves of a sheet are the two ends of one bracket. Broken brackets are interleaves. What stands
between two rows is what a reader sees as one opening of the book.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from wayfold.plan.model import EndRole, Gathering, Interleaf, InterleafEnd, Plan

LABEL_WIDTH = 24


@dataclass(frozen=True, slots=True)
class _Bracket:
    """A folded sheet or interleaf, outermost first; ``opens`` and ``closes`` are its rows."""

    folded: Interleaf | None
    sheet: int = 0


def draw_flatplan(plan: Plan, names: Mapping[str, str] | None = None) -> tuple[str, ...]:
    """Give the lines of the whole book, without colour, in characters of one width.

    ``names`` has what to call the blocks, by id; the others are called by their ids.
    """
    lines = (draw_gathering(plan, g, names or {}) for g in plan.gatherings)
    return tuple(line for gathering in lines for line in (*gathering, ""))


def draw_gathering(plan: Plan, gathering: Gathering, names: Mapping[str, str]) -> Iterator[str]:
    """Give the lines of one gathering."""
    left, right = gathering.centre
    noun = "sheet" if gathering.sheets == 1 else "sheets"
    yield (
        f"Gathering {gathering.number}: {gathering.sheets} {noun}, "
        f"pages {gathering.first_page}-{gathering.last_page}, centre {left} | {right}"
    )
    mine = [i for i in plan.interleaves if i.gathering == gathering.number]
    brackets = _nest(gathering, mine)
    for leaf in range(2 * gathering.sheets):
        yield from _draw_gap(gathering, brackets, mine, leaf)
        yield _draw_leaf(plan, gathering, brackets, leaf, names)
    yield from _draw_gap(gathering, brackets, mine, 2 * gathering.sheets)


def _nest(gathering: Gathering, interleaves: Sequence[Interleaf]) -> list[_Bracket]:
    nested: list[_Bracket] = []
    for depth in range(gathering.sheets + 1):
        nested += [_Bracket(i) for i in interleaves if i.depth == depth]
        if depth < gathering.sheets:
            nested.append(_Bracket(None, depth + 1))
    return nested


def _draw_leaf(
    plan: Plan,
    gathering: Gathering,
    brackets: Sequence[_Bracket],
    leaf: int,
    names: Mapping[str, str],
) -> str:
    front = leaf < gathering.sheets
    sheet = leaf + 1 if front else 2 * gathering.sheets - leaf
    at = next(i for i, bracket in enumerate(brackets) if bracket.sheet == sheet)
    rail = _draw_rail(brackets, at, "┌" if front else "└", "─")
    recto = gathering.first_page + 2 * leaf
    pages = (
        f"{number:>4} {_name(plan, number, names):<{LABEL_WIDTH}}" for number in (recto, recto + 1)
    )
    return f"  {rail}{'│'.join(pages)}".rstrip()


def _draw_gap(
    gathering: Gathering, brackets: Sequence[_Bracket], interleaves: Sequence[Interleaf], leaf: int
) -> Iterator[str]:
    after_page = gathering.first_page + 2 * leaf - 1
    at_centre = leaf == gathering.sheets
    for at, bracket in enumerate(brackets):
        for side, end in enumerate(bracket.folded.ends if bracket.folded else ()):
            if end.after_page == after_page:
                rail = _draw_rail(brackets, at, "╰" if side else "╭", "╌")
                yield f"  {rail}     {_describe_end(end)}"
    for interleaf in interleaves:
        if interleaf.depth is None and interleaf.ends[0].after_page == after_page:
            rail = _draw_rail(brackets, _count_open(gathering, brackets, leaf), "╶", "╌")
            yield f"  {rail}     tipped in, over {interleaf.ends[0].over}"
    if at_centre and not any(i.depth == gathering.sheets for i in interleaves):
        yield f"  {''.join('╎' if b.folded else '│' for b in brackets)}      centre"


def _draw_rail(brackets: Sequence[_Bracket], at: int, corner: str, line: str) -> str:
    """Draw the brackets that lie outside one that begins or ends in this row."""
    outside = "".join("╎" if b.folded else "│" for b in brackets[:at])
    return f"{outside}{corner}".ljust(len(brackets) + 1, line)


def _count_open(gathering: Gathering, brackets: Sequence[_Bracket], leaf: int) -> int:
    """Give how many brackets are open in the gap before a leaf (from 0) of the gathering."""
    sheets = min(leaf, 2 * gathering.sheets - leaf)
    return sum((b.folded.depth or 0) < sheets if b.folded else b.sheet <= sheets for b in brackets)


def _describe_end(end: InterleafEnd) -> str:
    if end.role is EndRole.WANTED:
        return f"interleaf, over {end.over}"
    return {
        EndRole.ECHO: "interleaf, its other leaf: a caption",
        EndRole.PLAIN: "interleaf, its other leaf: plain",
        EndRole.STUB: "interleaf, its other leaf: a stub",
    }[end.role]


def _name(plan: Plan, number: int, names: Mapping[str, str]) -> str:
    page = plan.pages[number - 1]
    if page.block is None:
        return "·"
    name = names.get(page.block, page.block)
    name = name if page.part == 0 else f"{name} ({page.part + 1})"
    return name if len(name) <= LABEL_WIDTH else name[: LABEL_WIDTH - 1] + "…"
