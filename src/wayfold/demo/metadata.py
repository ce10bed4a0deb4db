"""Writes what a camera and its owner would have written into a picture: EXIF, XMP, IPTC."""

from __future__ import annotations

import struct
from datetime import datetime, timedelta
from fractions import Fraction
from xml.sax.saxutils import escape

from PIL import ExifTags, Image, TiffImagePlugin

from wayfold.base.hashing import hash_values
from wayfold.base.world import LonLat
from wayfold.demo.model import CameraBody, Shot

_SECOND_PARTS = 10_000


def camera_time(shot: Shot, body: CameraBody) -> datetime:
    """Give the moment as the camera's own clock told it (its error included)."""
    return shot.taken + timedelta(seconds=body.clock_error_s)


def make_exif(shot: Shot, body: CameraBody) -> Image.Exif:
    """Give the EXIF block (CIPA DC-008, Exif 3.0) that ``body`` would have written."""
    clock = camera_time(shot, body)
    stamp = clock.strftime("%Y:%m:%d %H:%M:%S")
    hundredths = f"{int(hash_values(shot.key)[:6], 16) % 100:02d}"
    exif = Image.Exif()
    exif[ExifTags.Base.Make] = body.make
    exif[ExifTags.Base.Model] = body.model
    exif[ExifTags.Base.Orientation] = shot.stored_as
    exif[ExifTags.Base.DateTime] = stamp
    details = exif.get_ifd(ExifTags.IFD.Exif)
    details[ExifTags.Base.ExifVersion] = b"0300"
    details[ExifTags.Base.DateTimeOriginal] = stamp
    details[ExifTags.Base.DateTimeDigitized] = stamp
    details[ExifTags.Base.SubsecTimeOriginal] = hundredths
    if body.serial:
        details[ExifTags.Base.BodySerialNumber] = body.serial
    if body.records_offset:
        offset = format_offset(clock)
        details[ExifTags.Base.OffsetTime] = offset
        details[ExifTags.Base.OffsetTimeOriginal] = offset
        details[ExifTags.Base.OffsetTimeDigitized] = offset
    if shot.place is not None:
        _add_place(exif, shot.place)
    return exif


def make_xmp(shot: Shot) -> bytes:
    """Give an XMP packet (ISO 16684-1) with the rating, the caption and the keywords."""
    subjects = "".join(f"<rdf:li>{escape(word)}</rdf:li>" for word in shot.keywords)
    bag = f"<dc:subject><rdf:Bag>{subjects}</rdf:Bag></dc:subject>" if subjects else ""
    packet = (
        '<?xpacket begin="\ufeff" id="W5M0MpCehiHzreSzNTczkc9d"?>'
        '<x:xmpmeta xmlns:x="adobe:ns:meta/">'
        '<rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#">'
        '<rdf:Description rdf:about="" xmlns:dc="http://purl.org/dc/elements/1.1/"'
        ' xmlns:xmp="http://ns.adobe.com/xap/1.0/">'
        f"<xmp:Rating>{shot.rating}</xmp:Rating>"
        '<dc:description><rdf:Alt><rdf:li xml:lang="x-default">'
        f"{escape(shot.caption)}</rdf:li></rdf:Alt></dc:description>{bag}"
        "</rdf:Description></rdf:RDF></x:xmpmeta>"
        '<?xpacket end="w"?>'
    )
    return packet.encode("utf-8")


def make_iptc_segment(shot: Shot) -> bytes:
    """Give a JPEG APP13 segment with the caption and keywords (IPTC-IIM 4.2, record 2)."""
    records = _dataset(1, 90, b"\x1b%G")  # what follows is UTF-8
    records += _dataset(2, 0, struct.pack(">H", 4))
    for word in shot.keywords:
        records += _dataset(2, 25, word.encode("utf-8"))
    records += _dataset(2, 120, shot.caption.encode("utf-8"))
    resource = b"8BIM" + struct.pack(">HHI", 0x0404, 0, len(records)) + records
    resource += b"\x00" * (len(records) % 2)
    payload = b"Photoshop 3.0\x00" + resource
    return b"\xff\xed" + struct.pack(">H", len(payload) + 2) + payload


def format_offset(moment: datetime) -> str:
    """Give the offset from UTC as EXIF writes it, "+02:00". Raises ValueError where it has none."""
    offset = moment.utcoffset()
    if offset is None:
        raise ValueError("the moment has no offset from UTC")
    minutes = round(offset.total_seconds() / 60)
    sign = "-" if minutes < 0 else "+"
    return f"{sign}{abs(minutes) // 60:02d}:{abs(minutes) % 60:02d}"


def _add_place(exif: Image.Exif, place: LonLat) -> None:
    gps = exif.get_ifd(ExifTags.IFD.GPSInfo)
    gps[ExifTags.GPS.GPSVersionID] = b"\x02\x03\x00\x00"
    gps[ExifTags.GPS.GPSLatitudeRef] = "N" if place.latitude >= 0 else "S"
    gps[ExifTags.GPS.GPSLatitude] = _degrees(place.latitude)
    gps[ExifTags.GPS.GPSLongitudeRef] = "E" if place.longitude >= 0 else "W"
    gps[ExifTags.GPS.GPSLongitude] = _degrees(place.longitude)
    gps[ExifTags.GPS.GPSMapDatum] = "WGS-84"


def _degrees(angle: float) -> tuple[TiffImagePlugin.IFDRational, ...]:
    whole = round(Fraction(str(abs(angle))) * 3600 * _SECOND_PARTS)
    minutes, parts = divmod(whole, 60 * _SECOND_PARTS)
    degrees, minutes = divmod(minutes, 60)
    rational = TiffImagePlugin.IFDRational
    return rational(degrees, 1), rational(minutes, 1), rational(parts, _SECOND_PARTS)


def _dataset(record: int, number: int, data: bytes) -> bytes:
    return struct.pack(">BBBH", 0x1C, record, number, len(data)) + data
