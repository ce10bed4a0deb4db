"""One-page PDFs and SVGs: boxes, fonts, bytes, shapes and pictures."""

from __future__ import annotations

import io
import os
import subprocess
import sys
import threading
import xml.etree.ElementTree as ET
from dataclasses import replace

import pypdf
import pypdfium2 as pdfium
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from wayfold.base.geometry import Affine, Point, Rect, Size
from wayfold.base.units import pt_from_mm
from wayfold.drawing.colour import Colour
from wayfold.drawing.items import Contour, Drawing, Picture, Placed, Shape, Stroke
from wayfold.drawing.pictures import picture_key
from wayfold.drawing.text import Run
from wayfold.typeset.encode import split_affine
from wayfold.typeset.standin import make_standin, read_standin
from wayfold.typeset.svg import dress_svg

RED, BLUE = Colour(200, 0, 0), Colour(0, 0, 200)
GREY = (128, 128, 128)


def square(x, y, side):
    points = (Point(x, y), Point(x + side, y), Point(x + side, y + side), Point(x, y + side))
    return Contour(points, closed=True)


def dense(contour, per_side):
    """The same outline with many points on each side."""
    points = []
    ends = contour.points[1:] + contour.points[:1] if contour.closed else contour.points[1:]
    for a, b in zip(contour.points, ends, strict=False):
        steps = (i / per_side for i in range(per_side))
        points += [Point(a.x + (b.x - a.x) * t, a.y + (b.y - a.y) * t) for t in steps]
    if not contour.closed:
        points.append(contour.points[-1])
    return Contour(tuple(points), contour.closed)


def paint(pdf, px_per_mm=10.0):
    page = pdfium.PdfDocument(pdf)[0]
    image = page.render(scale=px_per_mm / pt_from_mm(1.0)).to_pil().convert("RGB")

    def at(x, y, bleed=3.0):
        return image.getpixel((int((x + bleed) * px_per_mm), int((y + bleed) * px_per_mm)))

    return at


def near(a, b, most=3):
    return all(abs(x - y) <= most for x, y in zip(a, b, strict=True))


def test_boxes_are_trim_and_bleed(setter, make_page, make_text):
    # ISO 32000-1, 14.11.2: boxes in points, trim within media.
    for size, bleed in [(Size(210, 297), 3.0), (Size(148, 210), 5.0), (Size(200, 200), 0.0)]:
        pdf = setter.page_pdf(make_page(make_text("Hello"), size=size, bleed=bleed)).pdf
        page = pypdf.PdfReader(io.BytesIO(pdf)).pages[0]
        media = [pt_from_mm(v) for v in (0, 0, size.width + 2 * bleed, size.height + 2 * bleed)]
        assert [float(v) for v in page.mediabox] == pytest.approx(media, abs=0.01)
        trim = [pt_from_mm(v) for v in (bleed, bleed, size.width + bleed, size.height + bleed)]
        assert [float(v) for v in page.trimbox] == pytest.approx(trim, abs=0.01)


def test_every_font_is_embedded_and_text_can_be_read_back(setter, make_page, make_text, body):
    pages = make_page(
        make_text("Upright words"),
        make_text("Slanted words", style=replace(body, italic=True)),
        make_text("Plain words", style=replace(body, family="Source Sans 3")),
    )
    page = pypdf.PdfReader(io.BytesIO(setter.page_pdf(pages).pdf)).pages[0]
    fonts = [f.get_object() for f in page["/Resources"]["/Font"].values()]
    assert len(fonts) == 3
    for font in fonts:
        descriptor = font["/DescendantFonts"][0].get_object()["/FontDescriptor"].get_object()
        assert "/FontFile2" in descriptor or "/FontFile3" in descriptor
    text = page.extract_text()
    assert all(words in text for words in ("Upright words", "Slanted words", "Plain words"))


SCRIPT = """
import hashlib, sys
from wayfold.base.geometry import Point, Rect, Size
from wayfold.drawing.colour import *
from wayfold.drawing.items import *
from wayfold.drawing.text import *
from wayfold.typeset.engine import Typesetter
style = TextStyle("EB Garamond", 10.5, 15.0, Colour(1, 2, 3), align=Align.JUSTIFY, hyphenate=True)
text = Text(Rect(20, 20, 112, 200), (Paragraph((Run("The road went down. " * 40),), style),), "t")
many = tuple(Point(i % 7 + i / 10, i / 3) for i in range(200))
shapes = (
    Shape((Contour(many, True),), fill=Colour(9, 9, 9, 0.5)),
    Shape((Contour(many[:9]),), stroke=Stroke(BLACK, 0.2)),
)
page = Drawing("p", Size(210, 297), 3.0, (text, *shapes, Picture(Rect(20, 230, 60, 40), "a")))
setter = Typesetter()
data = setter.page_pdf(page).pdf + setter.page_svg(page, lambda p: "/p.jpg").encode()
print(hashlib.sha256(data).hexdigest())
"""


def test_same_page_same_bytes_in_another_process():
    digests = {
        subprocess.run(
            [sys.executable, "-c", SCRIPT],
            capture_output=True,
            text=True,
            check=True,
            env={**os.environ, "PYTHONHASHSEED": seed, "TZ": zone, "SOURCE_DATE_EPOCH": epoch},
        ).stdout
        for seed, zone, epoch in [("1", "UTC", "1"), ("2", "Asia/Tokyo", "999999999")]
    }
    assert len(digests) == 1
    assert len(digests.pop().strip()) == 64


def test_same_page_same_bytes_again_and_after_others(setter, make_page, make_text):
    page = make_page(make_text("The same words"), Picture(Rect(20, 60, 60, 40), "a"))
    first = setter.page_pdf(page)
    for n in range(5):
        setter.page_pdf(make_page(make_text(f"Other words {n}")))
        setter.page_svg(page, lambda _: "x")
    assert setter.page_pdf(page) == first


def test_no_date_in_the_page(setter, make_page, make_text):
    pdf = setter.page_pdf(make_page(make_text("Hello"))).pdf
    reader = pypdf.PdfReader(io.BytesIO(pdf))
    assert "/CreationDate" not in reader.metadata
    assert b"CreateDate" not in pdf
    assert b"ModifyDate" not in pdf


def test_one_typesetter_serves_two_threads(setter, make_page, make_text):
    pages = [make_page(make_text(f"Page {n} " * 30)) for n in range(8)]
    alone = [setter.page_pdf(page).pdf for page in pages]
    found = {}

    def work(name):
        found[name] = [setter.page_pdf(page).pdf for page in pages]

    threads = [threading.Thread(target=work, args=(n,)) for n in range(2)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert found == {0: alone, 1: alone}


FORK = """
import os
from wayfold.drawing.items import Drawing, Size
from wayfold.typeset.engine import Typesetter
page = Drawing("p", Size(50, 50), 0.0, ())
setter = Typesetter()
setter.page_pdf(page)
child = os.fork()
if child == 0:
    try:
        Typesetter().page_pdf(page)
    except RuntimeError as error:
        os._exit(7 if "spawning" in str(error) else 1)
    os._exit(0)
print(os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]))
"""


@pytest.mark.skipif(not hasattr(os, "fork"), reason="needs fork")
def test_a_forked_process_is_told_to_spawn_instead_of_hanging():
    done = subprocess.run([sys.executable, "-c", FORK], capture_output=True, text=True, timeout=60)
    assert done.stdout.strip() == "7", done.stderr


@pytest.mark.parametrize("per_side", [1, 40])
def test_even_odd_fill_leaves_holes(setter, make_page, per_side):
    # SVG 2, 13.4.2 and ISO 32000-1, 8.5.3.3.3: even-odd, whichever way the contours run.
    contours = tuple(dense(c, per_side) for c in (square(10, 10, 40), square(20, 20, 20)))
    at = paint(setter.page_pdf(make_page(Shape(contours, fill=RED))).pdf)
    assert near(at(12, 12), (200, 0, 0))
    assert near(at(30, 30), (255, 255, 255))
    assert near(at(45, 30), (200, 0, 0))
    assert near(at(9.8, 12), (255, 255, 255))
    assert near(at(10.2, 12), (200, 0, 0))


@pytest.mark.parametrize("per_side", [1, 40])
def test_opacity_mixes_with_what_lies_beneath(setter, make_page, per_side):
    half = Colour(0, 0, 0, 0.5)
    shape = Shape((dense(square(10, 10, 20), per_side),), fill=half)
    at = paint(setter.page_pdf(make_page(shape)).pdf)
    assert near(at(20, 20), (127, 127, 127))


@pytest.mark.parametrize("per_side", [1, 80])
def test_strokes_and_dashes_have_their_lengths(setter, make_page, per_side):
    line = Contour((Point(10, 20), Point(50, 20)))
    line = line if per_side == 1 else dense(line, per_side)
    pen = Stroke(BLUE, 1.0, (4.0, 2.0))
    at = paint(setter.page_pdf(make_page(Shape((line,), stroke=pen))).pdf)
    for x in range(10, 50, 6):
        assert near(at(x + 0.3, 20), (0, 0, 200))
        assert near(at(x + 3.7, 20), (0, 0, 200))
        assert near(at(x + 5, 20), (255, 255, 255))
    assert near(at(12, 20.4), (0, 0, 200))
    assert near(at(12, 20.6), (255, 255, 255))


def test_a_shape_may_reach_into_the_bleed(setter, make_page):
    for per_side in (1, 40):
        shape = Shape((dense(square(-3, -3, 10), per_side),), fill=RED)
        at = paint(setter.page_pdf(make_page(shape)).pdf)
        assert near(at(-2.9, -2.9), (200, 0, 0))


def test_shapes_that_show_nothing_are_nothing(setter, make_page):
    shapes = [
        Shape((), fill=RED),
        Shape((Contour(()), Contour((Point(1, 1),))), fill=RED),
        Shape((square(1, 1, 5),)),
        Shape((square(1, 1, 5),), stroke=Stroke(RED, 0.2, (0.0, 0.0))),
    ]
    assert setter.page_pdf(make_page(*shapes)).pdf.startswith(b"%PDF")


def test_a_picture_fills_its_box_and_is_cut_at_its_clip(setter, make_page):
    picture = Picture(Rect(-3, 50, 160, 60), "a", clip=Rect(-3, 50, 83, 40))
    at = paint(setter.page_pdf(make_page(picture)).pdf)
    assert near(at(-2.9, 50.2), GREY)
    assert near(at(79.8, 89.8), GREY)
    assert near(at(80.2, 60), (255, 255, 255))
    assert near(at(40, 90.2), (255, 255, 255))
    outside = Picture(Rect(0, 0, 10, 10), "a", clip=Rect(50, 50, 5, 5))
    at = paint(setter.page_pdf(make_page(outside)).pdf)
    assert near(at(5, 5), (255, 255, 255))


TURNS = st.builds(
    # The shear is a part of the height: a square squeezed to a sliver has no pixel of its own.
    lambda sx, sy, turn, c, dx, dy: (
        Affine(sx, 0, c * sy, sy).then(Affine.turn(turn)).then(Affine.shift(dx, dy))
    ),
    st.floats(0.4, 3) | st.floats(-3, -0.4),
    st.floats(0.4, 3) | st.floats(-3, -0.4),
    st.floats(-180, 180),
    st.floats(-1, 1),
    st.floats(-50, 50),
    st.floats(-50, 50),
)


@given(TURNS)
def test_an_affine_map_is_its_turn_shear_and_scale(whole):
    from math import radians, tan

    parts = split_affine(whole)
    assert parts is not None
    again = (
        Affine.scale(parts["scalex"], parts["scaley"])
        .then(Affine(c=tan(radians(parts["shear"]))))
        .then(Affine.turn(parts["turn"]))
        .then(Affine.shift(parts["dx"], parts["dy"]))
    )
    for name in "abcdef":
        assert getattr(again, name) == pytest.approx(getattr(whole, name), abs=1e-6)


@settings(max_examples=20, deadline=None)
@given(TURNS)
def test_a_placed_drawing_lies_where_its_map_sends_it(setter, make_page, whole):
    # Four marks of the inner drawing are looked for where the map says; scaled to stay on a page.
    placed_by = whole.then(Affine.scale(0.5)).then(Affine.shift(105, 150))
    inner = Drawing("inner", Size(40, 40), 0.0, (Shape((square(0, 0, 40),), fill=RED),))
    at = paint(setter.page_pdf(make_page(Placed(inner, placed_by))).pdf, 5.0)
    for x, y in [(8, 8), (32, 8), (32, 32), (8, 32), (20, 20)]:
        p = placed_by.apply(Point(x, y))
        if -2 < p.x < 212 and -2 < p.y < 299:
            assert near(at(p.x, p.y), (200, 0, 0))
    for x, y in [(-12, 20), (52, 20), (20, -12), (20, 52)]:
        p = placed_by.apply(Point(x, y))
        if -2 < p.x < 212 and -2 < p.y < 299:
            assert near(at(p.x, p.y), (255, 255, 255))


def test_placed_drawings_nest_and_are_clipped_in_the_outer_space(setter, make_page, make_text):
    dot = Drawing("dot", Size(10, 10), 0.0, (Shape((square(0, 0, 10),), fill=RED),))
    middle = Drawing("middle", Size(50, 50), 0.0, (Placed(dot, Affine.shift(20, 20)),))
    outer = Placed(middle, Affine.scale(2).then(Affine.shift(10, 10)), clip=Rect(50, 50, 10, 20))
    at = paint(setter.page_pdf(make_page(outer)).pdf)
    assert near(at(50.5, 50.5), (200, 0, 0))
    assert near(at(59.5, 69.5), (200, 0, 0))
    assert near(at(60.5, 60), (255, 255, 255))
    assert near(at(55, 70.5), (255, 255, 255))
    flat = Placed(middle, Affine.scale(0.0))
    assert setter.page_pdf(make_page(flat, make_text("x"))).pdf.startswith(b"%PDF")


def test_texts_in_placed_drawings_are_judged_too(setter, make_page, make_text, body):
    text = make_text("Long words " * 50, box=Rect(0, 0, 30, 5), key="map label")
    inner = Drawing("inner", Size(40, 40), 0.0, (text,))
    findings = setter.page_pdf(make_page(Placed(inner))).findings
    assert [f.where for f in findings] == ["map label"]


def test_svg_shows_the_trim_with_the_pictures_addresses(setter, make_page, make_text):
    pictures = (
        Picture(Rect(20, 20, 60, 40), "one", alt="x"),
        Picture(Rect(-3, 100, 216, 80), "two", clip=Rect(-3, 100, 216, 80)),
    )
    page = make_page(make_text("Words on the page"), *pictures)
    svg = setter.page_svg(page, lambda p: f'/pictures/{p.asset}?a=1&b="2"')
    root = ET.fromstring(svg)
    assert root.tag == "{http://www.w3.org/2000/svg}svg"
    width, height = (float(v) for v in root.attrib["viewBox"].split()[2:])
    assert (width, height) == pytest.approx((pt_from_mm(210), pt_from_mm(297)), abs=0.01)
    assert root.attrib["overflow"] == "hidden"
    images = [e for e in root.iter() if e.tag.endswith("image")]
    links = [e.attrib["{http://www.w3.org/1999/xlink}href"] for e in images]
    assert links == ['/pictures/one?a=1&b="2"', '/pictures/two?a=1&b="2"']
    assert all(e.attrib["preserveAspectRatio"] == "none" for e in images)
    assert float(images[0].attrib["width"]) == pytest.approx(pt_from_mm(60), abs=0.01)


def test_ids_of_two_svgs_in_one_page_of_html_do_not_meet(setter, make_page, make_text):
    def ids(words):
        svg = setter.page_svg(make_page(make_text(words)), lambda _: "x")
        root = ET.fromstring(svg)
        made = {e.attrib["id"] for e in root.iter() if "id" in e.attrib}
        used = {
            value[1:]
            for e in root.iter()
            for name, value in e.attrib.items()
            if name.endswith("href") and value.startswith("#")
        }
        assert used and used <= made
        return made

    assert not ids("Harbour road") & ids("Harbour wall")


@given(st.text(min_size=1, max_size=40).filter(lambda s: s.isprintable()))
def test_a_standin_names_its_picture(key):
    assert read_standin(make_standin(key)) == key


def test_a_standin_is_a_jpeg_others_can_read():
    from PIL import Image

    image = Image.open(io.BytesIO(make_standin("a")))
    image.load()
    assert image.size == (8, 8)
    assert near([image.getpixel((3, 3))], [128], 1)
    photo = io.BytesIO()
    Image.new("RGB", (9, 9)).save(photo, "JPEG", comment=b"hello")
    assert read_standin(photo.getvalue()) is None


def test_both_halves_of_a_picture_across_the_fold_share_a_key():
    left = Picture(Rect(-3, -3, 426, 303), "a", clip=Rect(-3, -3, 216, 303))
    right = replace(left, box=left.box.moved(-210, 0))
    assert picture_key(left) == picture_key(right)


def test_run_colours(setter, make_page, make_text, body):
    from wayfold.drawing.text import Align, Paragraph

    style = replace(body, size_pt=60.0, leading_pt=70.0, align=Align.LEFT, hyphenate=False)
    paragraph = Paragraph((Run("HH"), Run("HH", colour=RED)), style)
    pdf = setter.page_pdf(make_page(make_text(paragraph))).pdf
    image = pdfium.PdfDocument(pdf)[0].render(scale=4).to_pil().convert("RGB")
    colours = {colour for _, colour in image.getcolors(100_000)}
    assert (200, 0, 0) in colours
    assert (0x26, 0x23, 0x20) in colours


def test_a_blank_page_is_a_whole_svg(setter, make_page):
    root = ET.fromstring(setter.page_svg(make_page(), lambda _: ""))
    width, height = (float(v) for v in root.attrib["viewBox"].split()[2:])
    assert (width, height) == pytest.approx((pt_from_mm(210), pt_from_mm(297)), abs=0.01)


def test_ids_and_what_points_at_them_are_kept_apart_and_nothing_else():
    bare = (
        '<svg viewBox="0 0 1 1"><g id="a" data-tid="x"/><use xlink:href="#a"/>'
        '<path clip-path="url(#a)"/></svg>'
    )
    dressed = dress_svg(bare, Drawing("page 1", Size(1.0, 1.0), 0.0, ()), lambda _: "")
    name = ET.fromstring(dressed).find("{*}g").get("id")
    assert name.endswith("-a")
    assert f'xlink:href="#{name}"' in dressed
    assert f'clip-path="url(#{name})"' in dressed
    assert 'data-tid="x"' in dressed
