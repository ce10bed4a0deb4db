"""A small book with words in it, as the stage of words writes them."""

from dataclasses import replace

from wayfold.base.findings import Finding
from wayfold.base.geometry import Rect
from wayfold.book.state import Book, PhotoChoice
from wayfold.checks.subject import Subject
from wayfold.layout.model import BookLayout, PageLayout, PictureFrame
from wayfold.photos.model import Photo, SizePx
from wayfold.plan.model import Plan
from wayfold.story.model import Alternative, Block, BlockKind, Chapter, Story
from wayfold.words.write import write_words


def photo(name: str, width_px: int = 6000, height_px: int = 4000) -> Photo:
    return Photo(name, name, f"/photographs/{name}.jpg", SizePx(width_px, height_px))


def write_book(
    texts: dict[str, str] | None = None,
    captions: dict[str, str] | None = None,
    book: Book | None = None,
    chapters: tuple[Chapter, ...] = (Chapter("Town", "", "Land", None, None),),
    **more: object,
) -> Subject:
    """A book of these texts, each a block, and of these captions, a picture a page from page 4."""
    said = captions or {}
    base = book or Book("A book")
    base = replace(
        base,
        texts={**base.texts, **(texts or {})},
        choices={name: PhotoChoice(caption=text) for name, text in said.items()},
    )
    way = (Alternative(1),)
    blocks = [Block(f"text:{n}", BlockKind.TEXT, way, 0, text=n) for n in texts or {}]
    blocks += [Block(f"single:{n}", BlockKind.SINGLE, way, 0, (n,)) for n in said]
    story = Story(chapters, tuple(blocks))
    photos = {name: photo(name) for name in said}
    words = write_words(base, story, Plan((), ()), photos)
    pages = tuple(
        PageLayout(number, "framed", (PictureFrame(Rect(20, 20, 160, 107), name),))
        for number, name in enumerate(said, start=4)
    )
    subject = Subject(base, photos, story=story, words=words, layout=BookLayout(pages))
    return replace(subject, **more)  # type: ignore[arg-type]


def only(findings: list[Finding]) -> Finding:
    assert len(findings) == 1, findings
    assert findings[0].remedy
    return findings[0]
