"""The door for photographs: spoilt files of every kind, and XMP files beside them."""

from __future__ import annotations

import struct
import zlib
from pathlib import Path
from random import Random

from proving.fuzz.door import APART, STAGE, Door, Entrance, HarmError
from proving.fuzz.mutate import SIZES, hostile_string, spoil, spoil_text
from proving.fuzz.samples import PICTURE_ENDINGS, Sample, list_pictures
from wayfold.base.cache import NoCache
from wayfold.base.errors import UserError
from wayfold.base.geometry import Rect
from wayfold.base.progress import NoProgress
from wayfold.photos.catalogue import Catalogue
from wayfold.photos.crew import Crew
from wayfold.photos.derive import make_preview
from wayfold.photos.looking import see
from wayfold.photos.read import read_photographs

PREVIEW_PX = 320
LOOKED_AT = 8
"""Of so many pictures that can be read one is looked at, which takes longest."""
SIDECAR = """<x:xmpmeta xmlns:x="adobe:ns:meta/"><rdf:RDF
 xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#"><rdf:Description
 xmlns:xmp="http://ns.adobe.com/xap/1.0/" xmlns:exif="http://ns.adobe.com/exif/1.0/"
 xmlns:dc="http://purl.org/dc/elements/1.1/" xmp:Rating="4" xmp:CreateDate="2025-05-04T09:20:31+02:00"
 exif:GPSLatitude="43,15.5N" exif:GPSLongitude="2,56.1W" exif:DateTimeOriginal="2025-05-04T09:20:31.25">
 <dc:description><rdf:Alt><rdf:li xml:lang="x-default">The quay</rdf:li></rdf:Alt></dc:description>
 </rdf:Description></rdf:RDF></x:xmpmeta>"""  # noqa: E501


def make_picture(rng: Random) -> bytes:
    """Give a case: a line with the file's name and how long its sidecar is, sidecar, picture."""
    name, data = rng.choice(list_pictures())
    data = spoil_picture(name, data, rng)
    if rng.random() < 0.05:
        name = Path(name).stem + rng.choice(sorted(PICTURE_ENDINGS | {".cr2", ".nef", ".cr3"}))
    sidecar = spoil_text(SIDECAR, rng) if rng.random() < 0.1 else b""
    return f"{name}\t{len(sidecar)}\n".encode() + sidecar + data


def spoil_picture(name: str, data: bytes, rng: Random) -> bytes:
    """Give a picture's bytes spoilt: anywhere, or in the parts that its kind is made of."""
    if rng.random() < 0.4:
        if data[:2] == b"\xff\xd8":
            data = _spoil_segments(data, rng)
        elif data[:4] == b"\x89PNG":
            data = _spoil_chunks(data, rng)
        elif data[4:8] == b"ftyp":
            data = _spoil_boxes(data, rng)
    if rng.random() < 0.75:
        data = spoil(data, rng, [d for _, d in _list_alike(name)], head=True)
    return data


def _list_alike(name: str) -> list[Sample]:
    ending = Path(name).suffix.lower()
    return [sample for sample in list_pictures() if sample[0].lower().endswith(ending)]


def _spoil_segments(data: bytes, rng: Random) -> bytes:
    """Take a JPEG's segments before its first scan apart and put them together wrongly."""
    parts, at = [], 2
    while at + 4 <= len(data) and data[at] == 0xFF and data[at + 1] != 0xDA:
        end = at + 2 + int.from_bytes(data[at + 2 : at + 4], "big")
        parts.append(bytearray(data[at:end]))
        at = max(end, at + 4)
    if not parts:
        return data
    one = rng.randrange(len(parts))
    match rng.randrange(6):
        case 0:
            parts[one : one + 1] = [parts[one]] * rng.choice((0, 2, 40))
        case 1:
            rng.shuffle(parts)
        case 2:
            parts.insert(one, bytearray(_hostile_segment(rng)))
        case 3:  # the frame's height and width
            for part in parts:
                if 0xC0 <= part[1] <= 0xC3 and len(part) > 9:
                    struct.pack_into(">HH", part, 5, *(rng.choice(SIZES[:9]) for _ in range(2)))
        case 4:
            struct.pack_into(">H", parts[one], 2, rng.choice(SIZES[:9]))
        case _:
            parts[one][4:] = spoil(bytes(parts[one][4:]), rng)
    return data[:2] + b"".join(parts) + data[at:]


def _hostile_segment(rng: Random) -> bytes:
    """Give a JPEG segment of metadata whose sizes, counts and offsets lie."""
    order = rng.choice("<>")
    mark = b"II*\0" if order == "<" else b"MM\0*"
    tags = [(rng.choice((0x0132, 0x8769, 0x8825, 0x0112, 0x010F, 0x9003, 0x927C, 0x02BC)),
             rng.randrange(14), rng.choice(SIZES), rng.choice((*SIZES, 8, 26)))
            for _ in range(rng.choice((1, 3, 60)))]  # fmt: skip
    count = rng.choice((len(tags), len(tags), 0xFFFF))
    exif = mark + struct.pack(f"{order}IH", 8, count)
    exif += b"".join(struct.pack(f"{order}HHII", *tag) for tag in tags)
    words = hostile_string(rng).encode()[:20_000]
    body = rng.choice((
        b"Exif\0\0" + exif,
        b"http://ns.adobe.com/xap/1.0/\0" + spoil_text(SIDECAR, rng)[:60_000],
        b"ICC_PROFILE\0" + bytes(rng.choice(((1, 1), (0, 0), (255, 255)))) + rng.randbytes(200),
        b"Photoshop 3.0\x008BIM\x04\x04\0\0" + struct.pack(">I", rng.choice(SIZES)) + words,
        b"\x1c\x02x" + struct.pack(">H", rng.choice(SIZES[:9])) + words,
        b"MPF\0" + exif,
    ))  # fmt: skip
    return (
        bytes((0xFF, rng.choice((0xE1, 0xE1, 0xE2, 0xED))))
        + struct.pack(">H", min(len(body) + 2, 65535))
        + body
    )


def _spoil_chunks(data: bytes, rng: Random) -> bytes:
    """Change a PNG's chunks, with check sums that are right, so that decoders go on."""
    parts, at = [], 8
    while at + 12 <= len(data):
        long = int.from_bytes(data[at : at + 4], "big")
        parts.append((data[at + 4 : at + 8], data[at + 8 : at + 8 + long]))
        at += 12 + long
    if not parts:
        return data
    one = rng.randrange(len(parts))
    kind, body = parts[one]
    match rng.randrange(5):
        case 0:  # width and height
            head = bytearray(parts[0][1])
            if len(head) >= 8:
                struct.pack_into(
                    ">II", head, 0, *(rng.choice((*SIZES, 5000, 60_000)) for _ in "wh")
                )
            parts[0] = parts[0][0], bytes(head)
        case 1:
            parts[one : one + 1] = [parts[one]] * rng.choice((0, 2, 40))
        case 2:
            rng.shuffle(parts)
        case 3:
            packed = zlib.compress(bytes(rng.choice((100, 3_000_000))))
            new = rng.choice((
                (b"iCCP", b"p\0\0" + packed), (b"zTXt", b"Comment\0\0" + packed),
                (b"iTXt", b"XML:com.adobe.xmp\0\1\0\0\0" + packed),
                (b"eXIf", b"MM\0*\0\0\0\x08\xff\xff" + rng.randbytes(60)),
            ))  # fmt: skip
            parts.insert(one, new)
        case _:
            parts[one] = kind, spoil(body, rng)
    return data[:8] + b"".join(
        struct.pack(">I", len(b)) + k + b + struct.pack(">I", zlib.crc32(k + b)) for k, b in parts
    )


def _spoil_boxes(data: bytes, rng: Random) -> bytes:
    """Change sizes in the boxes of a HEIC file (ISO/IEC 14496-12), and of its picture."""
    work = bytearray(data)
    mark = rng.choice((b"ispe", b"iloc", b"ipma", b"iinf", b"meta", b"infe", b"irot", b"hvcC",
                       b"iref", b"colr", b"pitm", b"mdat"))  # fmt: skip
    at = data.find(mark)
    if at >= 4:
        place = rng.choice((at - 4, at + 4, at + 8, at + 12, at + 4 + rng.randrange(24)))
        struct.pack_into(">I", work, min(place, len(work) - 4), rng.choice((*SIZES, 20_000)))
    return bytes(work)


def prepare(room: Path) -> Entrance:
    """Make the door ready: a folder of photographs that always holds one file."""
    folder = room / "photographs"
    folder.mkdir()
    stage = room / STAGE
    list_pictures()

    def enter(case: bytes) -> None:
        line, _, rest = case.partition(b"\n")
        told, _, long = line.decode("utf-8", "replace").partition("\t")
        name, cut = Path(told or "a.jpg").name, int(long) if long.isdecimal() else 0
        for old in folder.iterdir():
            old.unlink()
        picture = folder / name
        picture.write_bytes(rest[cut:])
        if cut:
            (folder / f"{name}.xmp").write_bytes(rest[:cut])
        before = picture.stat().st_mtime_ns
        try:
            stage.write_text(APART, encoding="utf-8")
            catalogue = read_photographs([folder], {}, NoCache(), NoProgress(), Crew(0))
            stage.write_text("decoding", encoding="utf-8")
            _use(catalogue, room / "cache" / "preview.jpg", zlib.crc32(case))
        finally:
            if (picture.read_bytes(), picture.stat().st_mtime_ns) != (rest[cut:], before):
                raise HarmError("the photograph's own file was changed")

    return Entrance(make_picture, enter)


def _use(catalogue: Catalogue, target: Path, lot: int) -> None:
    if not catalogue.photos:
        said = next((f for f in catalogue.findings if f.remedy), None)
        if said is None:
            raise HarmError("a picture is left out, and nothing says why")
        raise UserError(said.message, where=said.where, remedy=said.remedy)
    for photo in catalogue.photos:
        finding = make_preview(photo, Rect(0.0, 0.0, 1.0, 1.0), PREVIEW_PX, target)
        if lot % LOOKED_AT == 0:
            see(photo)
        if finding is not None:
            raise UserError(finding.message, where=finding.where, remedy=finding.remedy)


PICTURES = Door("pictures", "photographs, and XMP files beside them", prepare)
