"""The book's PDF, read back with pypdf and PDFium; colours against LittleCMS (Pillow ImageCms)."""

from __future__ import annotations

import io
import json
import os
import struct
import subprocess
import sys
from pathlib import Path

import pypdf
import pypdfium2 as pdfium
import pytest
import pyvips
from PIL import Image, ImageCms

from wayfold.base.errors import UserError
from wayfold.base.geometry import Rect, Size
from wayfold.base.units import mm_from_pt, pt_from_mm
from wayfold.drawing.items import Picture
from wayfold.drawing.pictures import list_pictures, picture_key
from wayfold.typeset.album import open_album
from wayfold.typeset.assemble import DocumentInfo, assemble_pdf
from wayfold.typeset.parts import JoinedParts

INFO = DocumentInfo("Down to the harbour — Ελλάδα", "A. Maker", "en-GB")
ADOBE_RGB_COLORANTS = (
    # Adobe RGB (1998) Color Image Encoding, version 2005-05: adapted to D50 as in its profile.
    (0.60974, 0.31111, 0.01947),
    (0.20528, 0.62567, 0.06087),
    (0.14919, 0.06322, 0.74457),
)


def write_matrix_profile(colorants, gamma):
    """An ICC profile of three colorants and a gamma (ICC.1:2001-04, 6.3.1.2)."""

    def xyz(values):
        return b"XYZ \0\0\0\0" + b"".join(struct.pack(">i", round(v * 65536)) for v in values)

    curve = b"curv\0\0\0\0" + struct.pack(">IH", 1, round(gamma * 256)) + b"\0\0"
    text = b"test\0"
    tags = {
        b"desc": b"desc\0\0\0\0" + struct.pack(">I", len(text)) + text + b"\0" * 78,
        b"cprt": b"text\0\0\0\0none\0",
        b"wtpt": xyz((0.9642, 1.0, 0.8249)),
        **{name: xyz(c) for name, c in zip((b"rXYZ", b"gXYZ", b"bXYZ"), colorants, strict=True)},
        **dict.fromkeys((b"rTRC", b"gTRC", b"bTRC"), curve),
    }
    table, body, at = b"", b"", 128 + 4 + 12 * len(tags)
    for name, data in tags.items():
        data += b"\0" * (-len(data) % 4)
        table += name + struct.pack(">II", at + len(body), len(data))
        body += data
    size = at + len(body)
    head = struct.pack(">I4sI4s4s4s", size, b"\0" * 4, 0x02400000, b"mntr", b"RGB ", b"XYZ ")
    head += b"\0" * 12 + b"acsp" + b"\0" * 28 + struct.pack(">iii", 63190, 65536, 54061)
    return head.ljust(128, b"\0") + struct.pack(">I", len(tags)) + table + body


def profile(name):
    if name == "adobe":
        return write_matrix_profile(ADOBE_RGB_COLORANTS, 563 / 256)
    return bytes(pyvips.Operation.call("profile_load", name)) if name else None


def make_jpeg(path, icc=None, size=(96, 64), mode="RGB", **options):
    """A smooth picture with strong colours, so that resampling hides nothing and adds nothing."""
    width, height = size
    ramp = Image.linear_gradient("L").resize(size, Image.Resampling.BICUBIC)
    turned = Image.linear_gradient("L").rotate(90).resize(size, Image.Resampling.BICUBIC)
    image = Image.merge("RGB", (ramp, turned, Image.new("L", (width, height), 60))).convert(mode)
    image.save(path, "JPEG", quality=95, subsampling=0, icc_profile=icc, **options)
    return path


@pytest.fixture
def build(setter, make_page, make_text, tmp_path):
    def build(pages=2, icc=None, **options):
        paths, pictures = [], {}
        for n in range(pages):
            # One picture is on every page, another only on its own.
            shared = Picture(Rect(20, 40, 96, 64), "shared")
            own = Picture(Rect(-3, 150, 216, 150), f"own {n}", clip=Rect(-3, 150, 216, 150))
            page = make_page(make_text(f"Words of page {n + 1}"), shared, own)
            path = tmp_path / f"page {n}.pdf"
            path.write_bytes(setter.page_pdf(page).pdf)
            paths.append(path)
            for picture in list_pictures(page):
                key = picture_key(picture)
                if key not in pictures:
                    pictures[key] = make_jpeg(tmp_path / f"{key}.jpg", icc, **options)
        return paths, pictures, tmp_path / "book.pdf"

    return build


def images_of(page):
    found = page["/Resources"]["/XObject"].values()
    return [x.get_object() for x in found if x.get_object()["/Subtype"] == "/Image"]


def test_pages_boxes_and_what_the_book_says_of_itself(build):
    pages, pictures, target = build(3)
    assemble_pdf(pages, pictures, target, INFO)
    reader = pypdf.PdfReader(target)
    assert len(reader.pages) == 3
    media = [0, 0, pt_from_mm(216), pt_from_mm(303)]
    trim = [pt_from_mm(v) for v in (3, 3, 213, 300)]
    for n, page in enumerate(reader.pages):
        # ISO 32000-1, 14.11.2.1: the crop, bleed and trim boxes lie within the media box.
        assert [float(v) for v in page.mediabox] == pytest.approx(media, abs=0.01)
        assert [float(v) for v in page.bleedbox] == pytest.approx(media, abs=0.01)
        assert [float(v) for v in page.trimbox] == pytest.approx(trim, abs=0.01)
        assert list(page.cropbox) == list(page.trimbox)
        assert f"Words of page {n + 1}" in page.extract_text()
    root = reader.trailer["/Root"]
    assert root["/PageLayout"] == "/TwoPageRight"
    assert root["/Lang"] == "en-GB"
    assert "/Album" not in root
    assert reader.metadata.title == INFO.title
    assert reader.metadata.author == "A. Maker"
    assert not {"/CreationDate", "/ModDate"} & set(reader.metadata)


def test_each_jpeg_is_in_the_pdf_once_byte_for_byte(build):
    pages, pictures, target = build(3, profile("p3"))
    assemble_pdf(pages, pictures, target, INFO)
    reader = pypdf.PdfReader(target)
    originals = {path.read_bytes() for path in pictures.values()}
    found = {}
    for page in reader.pages:
        for reference in page["/Resources"]["/XObject"].values():
            image = reference.get_object()
            assert image["/Filter"] == "/DCTDecode"
            found[reference.idnum] = image._data
            space = image["/ColorSpace"]
            assert space[0] == "/ICCBased"
            assert space[1].get_object().get_data() == profile("p3")
            assert space[1].get_object()["/N"] == 3
    assert len(found) == len(pictures) == 4
    assert set(found.values()) == originals
    spaces = {i["/ColorSpace"][1].idnum for p in reader.pages for i in images_of(p)}
    assert len(spaces) == 1


def test_no_standin_is_left(build):
    pages, pictures, target = build(2)
    assemble_pdf(pages, pictures, target, INFO)
    for page in pypdf.PdfReader(target).pages:
        assert {(i["/Width"], i["/Height"]) for i in images_of(page)} == {(96, 64)}


def test_fonts_are_embedded_and_like_ones_are_kept_once(build):
    pages, pictures, target = build(2)
    assemble_pdf([pages[0]] * 3 + pages, pictures, target, INFO)
    files = set()
    for page in pypdf.PdfReader(target).pages:
        for font in page["/Resources"]["/Font"].values():
            inner = font.get_object()["/DescendantFonts"][0].get_object()
            descriptor = inner["/FontDescriptor"].get_object()
            files.add(descriptor.raw_get("/FontFile2").idnum)
    assert 1 <= len(files) <= 2


@pytest.mark.parametrize("name", [None, "srgb", "p3", "adobe"])
@pytest.mark.parametrize("progressive", [False, True])
def test_colours_in_the_pdf_are_those_of_the_file_through_its_profile(
    setter, make_page, tmp_path, name, progressive
):
    # A page of 96 x 64 points shows the picture pixel for pixel at 72 ppi.
    size = Size(mm_from_pt(96), mm_from_pt(64))
    picture = Picture(Rect(0, 0, size.width, size.height), "a")
    page = tmp_path / "page.pdf"
    page.write_bytes(setter.page_pdf(make_page(picture, size=size, bleed=0.0)).pdf)
    jpeg = make_jpeg(tmp_path / "a.jpg", profile(name), progressive=progressive)
    target = tmp_path / "book.pdf"
    assemble_pdf([page], {picture_key(picture): jpeg}, target, INFO)
    got = pdfium.PdfDocument(target)[0].render(scale=1).to_pil().convert("RGB")
    assert got.size == (96, 64)
    with Image.open(jpeg) as image:
        true = image.convert("RGB")
    if name:
        source = ImageCms.ImageCmsProfile(io.BytesIO(profile(name)))
        true = ImageCms.profileToProfile(true, source, ImageCms.createProfile("sRGB"))
    worst = max(
        abs(a - b)
        for x in range(1, 95)
        for y in range(1, 63)
        for a, b in zip(got.getpixel((x, y)), true.getpixel((x, y)), strict=True)
    )
    assert worst <= 2
    if name in ("p3", "adobe"):  # The profile does change the colours: the check can fail.
        with Image.open(jpeg) as plain:
            raw = plain.convert("RGB")
        pair = (raw.getpixel((90, 2)), true.getpixel((90, 2)))
        assert max(abs(a - b) for a, b in zip(*pair, strict=True)) > 5


def test_grey_pictures(build):
    pages, pictures, target = build(1, mode="L")
    assemble_pdf(pages, pictures, target, INFO)
    (page,) = pypdf.PdfReader(target).pages
    assert {i["/ColorSpace"] for i in images_of(page)} == {"/DeviceGray"}
    pdfium.PdfDocument(target)[0].render(scale=0.5)


ELSEWHERE = """
import json, resource, sys
from pathlib import Path
from wayfold.typeset.album import open_album
from wayfold.typeset.assemble import DocumentInfo, assemble_pdf
pages, pictures, target, info = json.loads(sys.argv[1])
before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
pictures = {key: Path(path) for key, path in pictures}
assemble_pdf([Path(p) for p in pages], pictures, Path(target), DocumentInfo(*info))
grown = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before
print(grown * (1 if sys.platform == "darwin" else 1024))
"""


def assemble_elsewhere(pages, pictures, target):
    """Do it in a fresh process; gives by how many bytes its peak memory grew."""
    turned = [[key, str(path)] for key, path in reversed(pictures.items())]
    info = [INFO.title, INFO.author, INFO.language]
    work = json.dumps([[str(page) for page in pages], turned, str(target), info])
    environment = {**os.environ, "PYTHONHASHSEED": "7", "TZ": "Asia/Tokyo"}
    command = [sys.executable, "-c", ELSEWHERE, work]
    done = subprocess.run(command, check=True, env=environment, capture_output=True, text=True)
    return int(done.stdout)


def test_same_input_same_bytes_in_another_process(build, tmp_path):
    pages, pictures, target = build(2, profile("p3"))
    assemble_pdf(pages, pictures, target, INFO)
    again = tmp_path / "again.pdf"
    assemble_elsewhere(pages, pictures, again)
    assert again.read_bytes() == target.read_bytes()


def read_identity(path):
    first, second = pypdf.PdfReader(path).trailer["/ID"]
    assert first == second
    return bytes(first.original_bytes)


def test_another_picture_page_or_title_makes_another_identity(build, tmp_path):
    pages, pictures, target = build(3)
    other = tmp_path / "other.pdf"
    assemble_pdf(pages, pictures, target, INFO)
    assemble_pdf(pages, pictures, other, INFO)
    assert read_identity(other) == read_identity(target)
    seen = {read_identity(target)}
    assemble_pdf(pages[:2], pictures, other, INFO)
    seen.add(read_identity(other))
    assemble_pdf(pages, pictures, other, DocumentInfo("Another title"))
    seen.add(read_identity(other))
    make_jpeg(next(iter(pictures.values())), profile("p3"))
    assemble_pdf(pages, pictures, other, INFO)
    seen.add(read_identity(other))
    assert len(seen) == 4


def test_memory_does_not_grow_with_the_pictures(build):
    # 60 JPEGs of 2 MB each: all of them in memory would be 120 MB.
    pages, pictures, target = build(59)
    for path in pictures.values():
        data = path.read_bytes()
        filler = b"\xff\xfe\xff\xff" + b"\0" * 65533
        path.write_bytes(data[:2] + filler * 32 + data[2:])
    grown = assemble_elsewhere(pages, pictures, target)
    assert target.stat().st_size > 120e6
    assert grown < 60e6


@pytest.mark.parametrize(
    ("spoil", "reason"),
    [
        (lambda data: data[:-2], "cut off"),
        (lambda data: data[: len(data) // 2], "cut off"),
        (lambda data: data[:40], "cut off"),
        (lambda _: b"", "no JPEG"),
        (lambda data: b"\x89PNG" + data, "no JPEG"),
        (lambda data: data[:2] + b"\xff\xe1\x00\x08Exif\0\0" + data[2:], "metadata"),
        (lambda data: data[:2] + b"\xff\xda\x00\x02" + data[2:], "no frame"),
    ],
)
def test_a_bad_jpeg_is_refused_by_name_and_nothing_is_written(build, spoil, reason):
    pages, pictures, target = build(1)
    target.write_bytes(b"the last good book")
    bad = sorted(pictures.values())[0]
    bad.write_bytes(spoil(bad.read_bytes()))
    with pytest.raises(UserError, match=reason) as caught:
        assemble_pdf(pages, pictures, target, INFO)
    assert caught.value.where == str(bad)
    assert target.read_bytes() == b"the last good book"
    assert not list(target.parent.glob(".*part"))


def test_cmyk_is_refused(build, tmp_path):
    pages, pictures, target = build(1)
    bad = next(iter(pictures.values()))
    Image.new("CMYK", (8, 8)).save(bad, "JPEG")
    with pytest.raises(UserError, match="CMYK"):
        assemble_pdf(pages, pictures, target, INFO)


def test_what_is_missing_is_named(build, tmp_path):
    pages, pictures, target = build(1)
    some = dict(list(pictures.items())[:1])
    with pytest.raises(UserError, match="not among the print pictures"):
        assemble_pdf(pages, some, target, INFO)
    gone = {**pictures, next(iter(pictures)): tmp_path / "gone.jpg"}
    with pytest.raises(UserError, match="cannot be read") as caught:
        assemble_pdf(pages, gone, target, INFO)
    assert "gone.jpg" in caught.value.where
    with pytest.raises(UserError, match="page cannot be used"):
        assemble_pdf([tmp_path / "gone.pdf"], pictures, target, INFO)
    pages[0].write_bytes(b"no pdf")
    with pytest.raises(UserError, match="no whole PDF"):
        assemble_pdf(pages, pictures, target, INFO)
    with pytest.raises(UserError, match="no pages"):
        assemble_pdf([], pictures, target, INFO)


def test_a_target_that_cannot_be_written(build, tmp_path):
    pages, pictures, _ = build(1)
    with pytest.raises(UserError, match="cannot be written"):
        assemble_pdf(pages, pictures, tmp_path / "no such folder" / "book.pdf", INFO)


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="needs /dev/full")
def test_a_full_disk_is_said_and_leaves_the_old_book(build, tmp_path, monkeypatch):
    pages, pictures, target = build(1)
    target.write_bytes(b"the last good book")
    # The file that would be written beside the target is a door to the device that is always full.
    (tmp_path / f".book.pdf.{os.getpid()}.part").symlink_to("/dev/full")
    with pytest.raises(UserError, match="cannot be written"):
        assemble_pdf(pages, pictures, target, INFO)
    assert target.read_bytes() == b"the last good book"


def test_a_picture_that_vanishes_midway_is_named(build, monkeypatch):
    import wayfold.typeset.assemble as module

    pages, pictures, target = build(2)
    lost = sorted(pictures.values())[0]
    describe = module._describe_book

    def lose(*arguments):
        lost.unlink()
        describe(*arguments)

    monkeypatch.setattr(module, "_describe_book", lose)
    with pytest.raises(UserError, match="could not be read") as caught:
        assemble_pdf(pages, pictures, target, INFO)
    assert caught.value.where == str(lost)
    assert not target.exists()
    assert not list(target.parent.glob(".*part"))


def test_joined_parts_read_as_one_file(tmp_path):
    path = tmp_path / "middle"
    path.write_bytes(b"cdefg")
    joined = JoinedParts([b"ab", b"", (path, 5), b"", b"hi"])
    assert joined.seek(0, io.SEEK_END) == 9
    for start in range(10):
        for count in range(1, 10):
            joined.seek(start)
            # All at once: who asks takes less for the end.
            assert joined.read(count) == b"abcdefghi"[start : start + count]


@pytest.mark.parametrize("count", [*range(12), 60])
def test_an_album_is_read_by_its_table_and_never_searched_through(tmp_path, count):
    pictures = {f"{n}": make_jpeg(tmp_path / f"{n}.jpg", profile("srgb")) for n in range(count)}
    album, _ = open_album(pictures)
    with album:
        assert album.get_warnings() == []
        assert len(album.Root.Album.keys()) == count
