"""The words on translucent leaves: a chapter's title, a picture's caption, a chapter's name.

A leaf is read over another page: one dark ink, nothing smaller than ``LEAST_PT``.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace

from wayfold.book.state import Book
from wayfold.drawing.text import Align, Paragraph
from wayfold.plan.model import EndRole, InterleafEnd, Plan
from wayfold.story.model import Block, BlockKind, Story
from wayfold.words.model import Words

LEAST_PT = 9.5
"""The smallest letters that stay clear with another page showing through."""
TITLE, CAPTION, NAME = "leaf:opener", "leaf:caption", "leaf:name"


def list_ends(plan: Plan) -> Iterator[InterleafEnd]:
    """Give every leaf of every interleaf, in the plan's order."""
    for interleaf in plan.interleaves:
        yield from interleaf.ends


def find_veiled_pages(plan: Plan) -> frozenset[int]:
    """Give the pages that a leaf was made for."""
    ends = (end for end in list_ends(plan) if end.role is EndRole.WANTED)
    return frozenset(end.over for end in ends if end.over is not None)


def find_veiled_blocks(story: Story, plan: Plan) -> tuple[Block, ...]:
    """Give the blocks that have a page which a leaf was made for."""
    veiled = find_veiled_pages(plan)
    names = {page.block for page in plan.pages if page.number in veiled}
    return tuple(block for block in story.blocks if block.id in names)


def write_leaves(
    book: Book, story: Story, plan: Plan, words: Mapping[str, tuple[Paragraph, ...]]
) -> dict[str, tuple[Paragraph, ...]]:
    """Give the words of all leaves by the keys of ``Words``, made of those of the pages.

    "leaf:opener:<chapter index>" and "leaf:caption:<photo id>" are what a leaf was made for;
    "leaf:name:<chapter index>" stands on one that lies there for its other end's sake.
    """
    written: dict[str, tuple[Paragraph, ...]] = {}
    for block in find_veiled_blocks(story, plan):
        if block.kind is BlockKind.OPENER:
            keys = {f"{TITLE}:{block.chapter}": f"opener:{block.chapter}"}
        else:
            keys = {f"{CAPTION}:{photo}": f"caption:{photo}" for photo in block.photos}
        written |= {leaf: words[page] for leaf, page in keys.items() if page in words}
    if any(end.role is EndRole.ECHO for end in list_ends(plan)):
        for index in range(len(story.chapters)):
            written[f"{NAME}:{index}"] = words[f"running:{index}"]
    return {key: tuple(_ink(book, paragraphs)) for key, paragraphs in written.items()}


def leave_out_veiled(words: Words, story: Story, plan: Plan) -> Words:
    """Give the words without those that a leaf bears in the page's place."""
    blocks = find_veiled_blocks(story, plan)
    borne = {f"caption:{p}" for b in blocks if b.kind is not BlockKind.OPENER for p in b.photos}
    left = {key: text for key, text in words.paragraphs.items() if key not in borne}
    return replace(words, paragraphs=left)


def _ink(book: Book, paragraphs: Iterable[Paragraph]) -> Iterator[Paragraph]:
    for paragraph in paragraphs:
        style = paragraph.style
        grown = max(1.0, LEAST_PT / style.size_pt)
        yield Paragraph(
            tuple(replace(run, colour=None) for run in paragraph.runs),
            replace(
                style,
                # A leaf's words stand where the picture beneath is calm: there is no axis.
                align=Align.LEFT,
                colour=book.style.ink,
                size_pt=style.size_pt * grown,
                leading_pt=style.leading_pt * grown,
            ),
            paragraph.continues,
        )
