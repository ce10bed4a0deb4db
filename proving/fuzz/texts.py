"""The doors for what is set and printed: texts in Markdown, and colour profiles."""

from __future__ import annotations

from pathlib import Path
from random import Random

from PIL import Image, ImageCms

from proving.fuzz.door import Door, Entrance, HarmError
from proving.fuzz.mutate import hostile_string, spoil, spoil_text
from wayfold.base.geometry import Rect, Size
from wayfold.book.state import Book, PhotoChoice
from wayfold.checks.soft_proof import PrinterProfile
from wayfold.demo import scenario
from wayfold.demo.profiles import write_profile
from wayfold.drawing.items import Drawing, Text
from wayfold.drawing.text import TextBlock
from wayfold.photos.profiles import name_profile
from wayfold.typeset.engine import Typesetter
from wayfold.words.texts import style_texts

WIDTH = 120.0
MOST_BYTES, FEW_BYTES, LONG = 60_000, 6_000, 20
"""Far more than any chapter has, and as much as one has; one text of so many may be that long.
Setting takes time by length, which is no fault."""
OURS = """\
# A heading

We went *west*, 12 km in 3 h 20 — “slowly”[^1].  A [link](http://example.org) keeps its words.

> A quotation, with **weight**.

- one
- two
    1. within

***

```
as    it is
```

[^1]: Not so slowly.
"""
LANGUAGES = ("en", "de", "fr", "it", "es", "pt-BR", "xx")
DRAWN, LONGEST_MM = 4, 600.0
"""Of so many texts that can be set one is drawn as a page too, unless no page has room for it."""


def prepare_texts(_room: Path) -> Entrance:
    """Make the door for texts ready: they are styled, measured, and now and then drawn."""
    folder = Path(scenario.__file__).with_name("texts")
    texts = [OURS, *(path.read_text(encoding="utf-8") for path in sorted(folder.glob("*.md")))]
    typesetter = Typesetter()

    def make(rng: Random) -> bytes:
        text = rng.choice((OURS, rng.choice(texts)))
        if rng.random() < 0.1:
            text = hostile_string(rng) + text
        most = MOST_BYTES if rng.randrange(LONG) == 0 else FEW_BYTES
        return f"{rng.choice(LANGUAGES)}\n".encode() + spoil_text(text, rng)[:most]

    def enter(case: bytes) -> None:
        line, _, data = case.partition(b"\n")
        language = line.decode("ascii", "replace")
        language = language if language in LANGUAGES else "en"
        text = data.decode("utf-8", "replace").replace("\r\n", "\n").replace("\r", "\n")
        choice = {"p": PhotoChoice(caption=text[:200])}
        book = Book(text[:80], language=language, texts={"foreword": text}, choices=choice)
        paragraphs = style_texts(book).get("foreword", ())
        if not paragraphs:
            return
        heights = typesetter.measure_heights((TextBlock(paragraphs, WIDTH),))
        if len(case) % DRAWN == 0 and heights[0] <= LONGEST_MM:
            box = Rect(0.0, 0.0, WIDTH, max(heights[0], 1.0))
            text_item = Text(box, paragraphs, "foreword")
            page = Drawing("page", Size(WIDTH, 200.0), 0.0, (text_item,))
            svg = typesetter.page_svg(page, lambda _: "")
            if "<script" in svg.lower() or "<foreignobject" in svg.lower():
                raise HarmError("a page's drawing holds what could run")

    return Entrance(make, enter)


def prepare_profiles(_room: Path) -> Entrance:
    """Make the door for colour profiles ready: a small picture is proven with each."""
    whole = [write_profile(name) for name in ("display-p3", "adobe-rgb")]
    whole += [
        ImageCms.ImageCmsProfile(ImageCms.createProfile(s)).tobytes() for s in ("sRGB", "LAB")
    ]
    page = Image.linear_gradient("L").resize((24, 24)).convert("RGB")

    def make(rng: Random) -> bytes:
        data = bytearray(rng.choice(whole))
        if rng.random() < 0.4:  # another kind of device, colours or connection than its tags are of
            data[12:16] = rng.choice((b"prtr", b"mntr", b"spac", b"link", b"abst", b"nmcl"))
            at = rng.choice((16, 20))
            data[at : at + 4] = rng.choice((b"CMYK", b"RGB ", b"Lab ", b"XYZ ", b"GRAY", b"6CLR"))
        return spoil(bytes(data), rng, whole, head=rng.random() < 0.7)

    def enter(case: bytes) -> None:
        name_profile(case)
        PrinterProfile(case, "printer.icc").prove(page)

    return Entrance(make, enter)


# A word of 20,000 letters that may break at each takes 4 s: time grows with the length alone.
TEXTS = Door("texts", "texts in Markdown, set in type", prepare_texts, slow_s=15.0)
PROFILES = Door("profiles", "colour profiles (ICC)", prepare_profiles)
