"""Captions, ratings, places, cameras: EXIF, XMP, IPTC and sidecars, and which one counts."""

from __future__ import annotations

import io
from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from typing import Any

import exifread
import pi_heif
import pytest
from PIL import Image
from PIL.TiffImagePlugin import IFDRational

from wayfold.photos.captions import is_boilerplate
from wayfold.photos.facts import Facts, decode_outcome, encode_outcome
from wayfold.photos.model import Camera, Credit, SizePx
from wayfold.photos.xmp import parse_xmp

XMP = """<?xpacket begin="\ufeff" id="W5M0MpCehiHzreSzNTczkc9d"?>
<x:xmpmeta xmlns:x="adobe:ns:meta/"><rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#">
<rdf:Description rdf:about="" xmlns:dc="http://purl.org/dc/elements/1.1/"
 xmlns:xmp="http://ns.adobe.com/xap/1.0/" xmlns:exif="http://ns.adobe.com/exif/1.0/" {attributes}>
{children}</rdf:Description></rdf:RDF></x:xmpmeta><?xpacket end="w"?>"""

CAPTION = (
    "<dc:description><rdf:Alt><rdf:li xml:lang='de'>Am Wasserfall</rdf:li>"
    "<rdf:li xml:lang='x-default'>{}</rdf:li></rdf:Alt></dc:description>"
)


def xmp(attributes: str = "", children: str = "") -> bytes:
    return XMP.format(attributes=attributes, children=children).encode()


def iptc(*records: tuple[int, int, bytes]) -> bytes:
    """Build a JPEG APP13 segment of IIM records (IIM 4.2, chapter 3; Photoshop resource 0x0404)."""
    data = b"".join(
        bytes([0x1C, record, number]) + len(value).to_bytes(2, "big") + value
        for record, number, value in records
    )
    block = b"8BIM\x04\x04\0\0" + len(data).to_bytes(4, "big") + data + bytes(len(data) % 2)
    body = b"Photoshop 3.0\0" + block
    return b"\xff\xed" + (len(body) + 2).to_bytes(2, "big") + body


@pytest.fixture
def jpeg(folder: Path, paint: Callable[..., Image.Image], read_one: Any) -> Callable[..., Any]:
    def make(name: str = "a.jpg", segment: bytes = b"", **options: Any) -> Any:
        buffer = io.BytesIO()
        paint(64, 48).save(buffer, "JPEG", **options)
        data = buffer.getvalue()
        source = folder.parent / name
        source.write_bytes(data[:2] + segment + data[2:])
        return read_one(source)

    return make


def test_caption_and_rating_from_xmp(jpeg: Any) -> None:
    photo = jpeg(xmp=xmp("xmp:Rating='4'", CAPTION.format("Les Dents du Midi – à l’aube")))
    assert photo.caption == "Les Dents du Midi – à l’aube"
    assert photo.rating == 4


@pytest.mark.parametrize(
    ("rating", "read"), [("-1", 0), ("0", 0), ("5", 5), ("99", 5), ("3.0", 3), ("many", None)]
)
def test_rating_range(rating: str, read: int | None) -> None:
    # ISO 16684-1, 8.4: -1 (rejected) or 0..5
    assert parse_xmp(xmp(f"xmp:Rating='{rating}'")).rating == read
    assert parse_xmp(xmp("", f"<xmp:Rating>{rating}</xmp:Rating>")).rating == read


def test_place_and_time_from_xmp() -> None:
    # Coordinate form of the XMP specification part 2, 3.3 (GPSCoordinate): DDD,MM.mmk
    packet = xmp(
        "exif:GPSLatitude='46,12.500N' exif:GPSLongitude='6,9,30W' "
        "exif:DateTimeOriginal='2024-06-01T09:30:15+02:00'"
    )
    found = parse_xmp(packet)
    assert found.place is not None
    assert found.place.latitude == pytest.approx(46 + 12.5 / 60)
    assert found.place.longitude == pytest.approx(-(6 + 9 / 60 + 30 / 3600))
    assert found.taken is not None
    assert found.taken.local == datetime(2024, 6, 1, 9, 30, 15)


@pytest.mark.parametrize(
    "packet",
    [
        b"",
        b"<",
        b"\xff\xfe\0\0",
        xmp()[:200],
        b"<!DOCTYPE x [<!ENTITY a 'b'>]><x>&a;</x>",
        b"\0" * 99,
    ],
)
def test_damaged_xmp_tells_nothing_and_harms_nothing(packet: bytes) -> None:
    assert parse_xmp(packet).caption is None


def test_xmp_wins_over_iptc_over_exif(jpeg: Any) -> None:
    exif = Image.Exif()
    exif[0x010E] = "from exif"
    segment = iptc((1, 90, b"\x1b%G"), (2, 120, "aus IPTC: Straße".encode()))
    assert jpeg("1.jpg", exif=exif).caption == "from exif"
    assert jpeg("2.jpg", segment, exif=exif).caption == "aus IPTC: Straße"
    packet = xmp("", CAPTION.format("from xmp"))
    assert jpeg("3.jpg", segment, exif=exif, xmp=packet).caption == "from xmp"


@pytest.mark.parametrize(
    ("charset", "caption"),
    [
        (b"\x1b%G", "Zürich, 日本".encode()),
        (b"", "Zürich".encode()),
        (b"", "Zürich".encode("cp1252")),
    ],
)
def test_iptc_character_sets(jpeg: Any, charset: bytes, caption: bytes) -> None:
    # IIM 4.2, 1:90: ESC % G announces UTF-8 (ISO/IEC 2022); without it files differ.
    records = [(1, 90, charset)] if charset else []
    photo = jpeg("c.jpg", iptc(*records, (2, 120, caption)))
    assert photo.caption.startswith("Zürich")


def test_iptc_date_fills_the_gap(jpeg: Any) -> None:
    photo = jpeg("d.jpg", iptc((2, 55, b"20240601"), (2, 60, b"093015+0200")))
    assert photo.taken.local == datetime(2024, 6, 1, 9, 30, 15)
    assert photo.taken.offset_minutes == 120


@pytest.mark.parametrize(
    "text",
    ["OLYMPUS DIGITAL CAMERA         ", "SONY DSC", "DCIM\\100MEDIA\\DJI_0001.JPG", "default",
     "<Digimax S500 / Kenox S500 / Digital Cimax S500>", "rhdr", "oznor", "NIKON D800", "  ", "---",
     "Processed with a filter", "DSC_0042.JPG"],
)  # fmt: skip
def test_what_cameras_write_is_no_caption(text: str) -> None:
    # From memory: descriptions that camera makers and telephones leave in files.
    camera = Camera("NIKON", "D800")
    if text.startswith("<Digimax"):
        camera = Camera("Samsung", text.strip("<>"))
    assert is_boilerplate(text, camera)


@pytest.mark.parametrize(
    "text", ["The default was to walk on", "My digital camera fell in here", "Image of Saint Anne",
             "Ana and the dog", "Made it!"],
)  # fmt: skip
def test_what_people_write_is_a_caption(text: str) -> None:
    assert not is_boilerplate(text, Camera("NIKON", "D800"))


def test_exif_description_in_utf8_is_read_right(jpeg: Any) -> None:
    raw = Image.Exif()
    raw[0x010E] = "Cote d'Azur!"
    data = raw.tobytes().replace(b"Cote d'Azur!", "Côte d’A".encode().ljust(12, b"\0"))
    assert jpeg("v.jpg", exif=data).caption == "Côte d’A"


def gps_exif(latitude: Any, longitude: Any, **more: Any) -> Image.Exif:
    exif = Image.Exif()
    gps = exif.get_ifd(0x8825)
    gps.update(
        {1: "N", 2: latitude, 3: "W", 4: longitude, **{int(k[1:]): v for k, v in more.items()}}
    )
    return exif


def test_place_from_exif(jpeg: Any) -> None:
    photo = jpeg("g.jpg", exif=gps_exif((43.0, 11.0, 24.0), (4.0, 49.0, 48.0)))
    assert photo.place.latitude == pytest.approx(43.19)
    assert photo.place.longitude == pytest.approx(-4.83)


@pytest.mark.parametrize(
    "exif",
    [
        gps_exif((0.0, 0.0, 0.0), (0.0, 0.0, 0.0)),
        gps_exif((43.0, 11.0, 24.0), (4.0, 49.0, 48.0), t9="V"),
        gps_exif((143.0, 11.0, 24.0), (4.0, 49.0, 48.0)),
        gps_exif((43.0, IFDRational(11, 0), 24.0), (4.0, 49.0, 48.0)),
        gps_exif((43.0, 11.0, 24.0), (4.0, 49.0, 48.0), t1="?"),
    ],
)
def test_receiver_without_a_fix_gives_no_place(jpeg: Any, exif: Image.Exif) -> None:
    assert jpeg("n.jpg", exif=exif).place is None


def test_time_of_change_is_never_taken_for_the_moment(jpeg: Any) -> None:
    exif = Image.Exif()
    exif[0x0132] = "2024:06:01 09:30:15"  # DateTime: when the file was changed
    assert jpeg("m.jpg", exif=exif).taken is None


def test_sidecar_wins_for_caption_and_rating_and_fills_gaps(
    folder: Path, paint: Any, read: Any
) -> None:
    paint().save(folder / "a.jpg", xmp=xmp("xmp:Rating='1'", CAPTION.format("inside")))
    (folder / "a.XMP").write_bytes(
        xmp("xmp:Rating='5' exif:DateTimeOriginal='2024-06-01T09:30:15'", CAPTION.format("beside"))
    )
    paint(seed=2).save(folder / "b.jpg")
    (folder / "b.jpg.xmp").write_bytes(xmp("xmp:Rating='2'"))
    first, second = read(folder).photos
    assert (first.caption, first.rating) == ("beside", 5)
    assert first.taken.local == datetime(2024, 6, 1, 9, 30, 15)
    assert second.rating == 2


CREATORS = (
    "<dc:creator><rdf:Seq><rdf:li>Ines Calder</rdf:li><rdf:li>Jo Marsh</rdf:li>"
    "</rdf:Seq></dc:creator>"
)
RIGHTS = (
    "<dc:rights><rdf:Alt><rdf:li xml:lang='de'>nein</rdf:li>"
    "<rdf:li xml:lang='x-default'>CC BY 4.0</rdf:li></rdf:Alt></dc:rights>"
)


def test_who_made_a_picture_from_xmp_over_iptc_over_exif(jpeg: Any) -> None:
    """EXIF 2.32: Artist 013B, Copyright 8298; IIM 4.2: 2:80, 2:116; XMP part 1, 8.3: dc."""
    exif = Image.Exif()
    exif[0x013B], exif[0x8298] = "Exif Maker", "(c) Exif"
    segment = iptc((1, 90, b"\x1b%G"), (2, 80, "Íñigo".encode()), (2, 116, "© Íñigo".encode()))
    assert jpeg("1.jpg", exif=exif).credit == Credit("Exif Maker", "(c) Exif")
    assert jpeg("2.jpg", segment, exif=exif).credit == Credit("Íñigo", "© Íñigo")
    packet = xmp("", CREATORS + RIGHTS)
    found = jpeg("3.jpg", segment, exif=exif, xmp=packet).credit
    assert found == Credit("Ines Calder, Jo Marsh", "CC BY 4.0")
    # Each half from where it is told.
    half = jpeg("4.jpg", exif=exif, xmp=xmp("", RIGHTS)).credit
    assert half == Credit("Exif Maker", "CC BY 4.0")
    assert jpeg("5.jpg").credit is None


@pytest.mark.parametrize("artist", ["", "   ", "unknown", "Untitled"])
def test_what_cameras_leave_as_artist_is_no_credit(jpeg: Any, artist: str) -> None:
    exif = Image.Exif()
    exif[0x013B] = artist
    assert jpeg("a.jpg", exif=exif).credit is None


def test_a_sidecars_credit_wins_and_is_kept_between_runs(
    folder: Path, paint: Any, read: Any
) -> None:
    exif = Image.Exif()
    exif[0x013B], exif[0x8298] = "Inside", "(c) Inside"
    paint().save(folder / "a.jpg", exif=exif)
    (folder / "a.xmp").write_bytes(xmp("", CREATORS))
    assert [p.credit for p in read(folder).photos] == [
        Credit("Ines Calder, Jo Marsh", "(c) Inside")
    ]
    facts = Facts("JPEG", SizePx(3, 2), credit=Credit("Á", "©"))
    assert decode_outcome(encode_outcome(facts)) == facts


def test_sidecar_of_a_raw_is_not_that_of_the_jpeg_beside_it(
    folder: Path, paint: Any, build_dng: Any, read: Any
) -> None:
    paint().save(folder / "a.jpg")
    (folder / "a.dng").write_bytes(build_dng())
    (folder / "a.xmp").write_bytes(xmp("xmp:Rating='5'"))
    assert {p.file_format: p.rating for p in read(folder).photos} == {"JPEG": None, "camera raw": 5}


# --- against exifread 3, an independent EXIF reader, on files from other people's cameras ---

SAMPLES = [
    "flower.jpg", "flower.webp", "fujifilm.mpo", "frozenpond.mpo", "ifd_tag_type.tiff",
    "broken_exif_dpi.jpg", "empty_gps_ifd.jpg", "frame_size.mpo", "ignore_frame_size.mpo",
    "iptc.jpg", "xmp_test.jpg", "hopper_orientation_6.jpg",
]  # fmt: skip
HEIF_SAMPLES = [
    "heif_other/arrow.heic", "heif_other/cat.hif", "heif_other/empty_icc.heic",
    "heif_other/pug.heic", "heif_special/aux_YCbCr.heic", "heif_special/guitar_cw90.hif",
    "heif_special/xiaomi.heic",
]  # fmt: skip


def compare_with_exifread(path: Path, photo: Any) -> int:
    """Compare everything both know; give how many things that were."""
    if photo.file_format == "HEIC":  # Of HEIC it reads some; the EXIF block itself it always can.
        block = pi_heif.open_heif(path).info["exif"]
        stream = io.BytesIO(block[block.find(b"Exif\0\0") + 6 :])
    else:
        stream = io.BytesIO(path.read_bytes())
    tags = exifread.process_file(stream, details=False)
    compared = 0
    if taken := tags.get("EXIF DateTimeOriginal"):
        assert photo.taken.local.strftime("%Y:%m:%d %H:%M:%S") == str(taken)
        compared += 1
    if offset := tags.get("EXIF OffsetTimeOriginal"):
        minutes = photo.taken.offset_minutes
        sign = "-" if minutes < 0 else "+"
        assert f"{sign}{abs(minutes) // 60:02}:{abs(minutes) % 60:02}" == str(offset)
        compared += 1
    if fraction := str(tags.get("EXIF SubSecTimeOriginal", "")).strip():
        assert photo.taken.local.microsecond == int(fraction.ljust(6, "0")[:6])
        compared += 1
    for name, mine in (("Image Make", "make"), ("Image Model", "model"),
                       ("EXIF BodySerialNumber", "serial")):  # fmt: skip
        if name in tags and str(tags[name]).strip():
            assert getattr(photo.camera, mine) == str(tags[name]).strip()
            compared += 1
    for name, mine in (("Image Artist", "creator"), ("Image Copyright", "rights")):
        told = str(tags.get(name, "")).strip()
        if told and not photo.credit and is_boilerplate(told, photo.camera):
            continue
        if told:
            assert photo.credit is not None
            assert getattr(photo.credit, mine) == told
            compared += 1
    coordinates = exifread.utils.get_gps_coords(tags)
    if coordinates and photo.place:
        assert (photo.place.latitude, photo.place.longitude) == pytest.approx(coordinates, abs=1e-6)
        compared += 2
    return compared


@pytest.mark.parametrize("name", SAMPLES)
def test_exif_as_an_independent_reader_sees_it(
    name: str, pillow_images: Path, read_one: Any
) -> None:
    compare_with_exifread(pillow_images / name, read_one(pillow_images / name))


@pytest.mark.parametrize("name", HEIF_SAMPLES)
def test_heic_exif_as_an_independent_reader_sees_it(
    name: str, heif_images: Path, read_one: Any
) -> None:
    assert compare_with_exifread(heif_images / name, read_one(heif_images / name)) >= 3


def test_comparison_with_the_independent_reader_is_not_empty(
    pillow_images: Path, read_one: Any
) -> None:
    compared = [
        compare_with_exifread(pillow_images / n, read_one(pillow_images / n)) for n in SAMPLES
    ]
    assert sum(compared) > 30
