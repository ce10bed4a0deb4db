"""Time, place, camera, rating and caption, each from the source that is to be trusted most."""

from __future__ import annotations

from dataclasses import replace

from wayfold.photos.captions import choose_caption
from wayfold.photos.exif import ExifData
from wayfold.photos.facts import Facts
from wayfold.photos.iptc import IptcData
from wayfold.photos.model import Camera, Credit
from wayfold.photos.xmp import XmpData


def add_metadata(
    facts: Facts,
    exif: ExifData | None = None,
    xmp: XmpData | None = None,
    iptc: IptcData | None = None,
) -> Facts:
    """Give ``facts`` with what the blocks inside the file say.

    The camera's own EXIF leads for time and place; XMP, which programs write when a person types
    something, leads for caption, rating and credit. A file's date on disk is never taken for its
    moment.
    """
    exif, xmp, iptc = exif or ExifData(), xmp or XmpData(), iptc or IptcData()
    camera = exif.camera
    if camera and not camera.serial and xmp.serial:
        camera = Camera(camera.make, camera.model, xmp.serial)
    return replace(
        facts,
        taken=exif.taken or xmp.taken or iptc.taken or exif.digitised or xmp.created,
        place=exif.place or xmp.place,
        gps_utc=exif.gps_utc,
        camera=camera,
        rating=xmp.rating,
        caption=choose_caption((xmp.caption, iptc.caption, exif.description), camera),
        credit=_make_credit(
            choose_caption((xmp.creator, iptc.by_line, exif.artist), camera),
            choose_caption((xmp.rights, iptc.copyright, exif.copyright), camera),
        ),
    )


def add_sidecar(facts: Facts, sidecar: XmpData) -> Facts:
    """Give ``facts`` with what a sidecar file says.

    A sidecar is written after the picture, by the person's own program, so its caption, rating
    and credit win; its time and place fill gaps only.
    """
    known = facts.credit or Credit()
    return replace(
        facts,
        taken=facts.taken or sidecar.taken or sidecar.created,
        place=facts.place or sidecar.place,
        rating=facts.rating if sidecar.rating is None else sidecar.rating,
        caption=choose_caption((sidecar.caption, facts.caption), facts.camera),
        credit=_make_credit(
            choose_caption((sidecar.creator, known.creator), facts.camera),
            choose_caption((sidecar.rights, known.rights), facts.camera),
        ),
    )


def _make_credit(creator: str | None, rights: str | None) -> Credit | None:
    return Credit(creator or "", rights or "") if creator or rights else None
