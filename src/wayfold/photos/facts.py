"""What one file tells of itself, or why it cannot be read; and both as bytes for the cache."""

from __future__ import annotations

import json
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from wayfold.base.world import LonLat
from wayfold.photos.model import Camera, CaptureTime, Credit, SizePx
from wayfold.photos.refusals import Refusal


@dataclass(frozen=True, slots=True)
class Remark:
    """Something worth saying about a file that could be read all the same."""

    rule: str
    message: str
    remedy: str = ""


@dataclass(frozen=True, slots=True)
class Facts:
    """All that a file's bytes tell; the fields are those of Photo."""

    file_format: str
    size: SizePx
    orientation: int = 1
    taken: CaptureTime | None = None
    place: LonLat | None = None
    camera: Camera | None = None
    profile: str = "sRGB"
    rating: int | None = None
    caption: str | None = None
    remarks: tuple[Remark, ...] = ()
    gps_utc: datetime | None = None
    credit: Credit | None = None


def encode_outcome(outcome: Facts | Refusal) -> bytes:
    """Give facts or refusal as JSON bytes."""
    if isinstance(outcome, Refusal):
        data: dict[str, Any] = {
            "refused": [outcome.rule, outcome.message, outcome.remedy, outcome.lasting]
        }
        return json.dumps(data).encode()
    taken, place, camera = outcome.taken, outcome.place, outcome.camera
    data = {
        "format": outcome.file_format,
        "size": [outcome.size.width_px, outcome.size.height_px],
        "orientation": outcome.orientation,
        "taken": [taken.local.isoformat(), taken.offset_minutes] if taken else None,
        "place": [place.longitude, place.latitude] if place else None,
        "camera": [camera.make, camera.model, camera.serial] if camera else None,
        "profile": outcome.profile,
        "rating": outcome.rating,
        "caption": outcome.caption,
        "remarks": [[r.rule, r.message, r.remedy] for r in outcome.remarks],
        "credit": [outcome.credit.creator, outcome.credit.rights] if outcome.credit else None,
        "gps_utc": outcome.gps_utc.isoformat() if outcome.gps_utc else None,
    }
    return json.dumps(data).encode()


def decode_outcome(data: bytes) -> Facts | Refusal | None:
    """Give back what ``encode_outcome`` wrote, or None for bytes that it did not write."""
    try:
        return _decode(json.loads(data))
    except (ValueError, LookupError, TypeError, ArithmeticError, RecursionError):
        return None  # A damaged cache costs time, nothing else.


def _decode(data: dict[str, Any]) -> Facts | Refusal:
    if "refused" in data:
        rule, message, remedy, lasting = data["refused"]
        return Refusal(rule, message, remedy, lasting)
    taken, place, camera = data["taken"], data["place"], data["camera"]
    return Facts(
        file_format=data["format"],
        size=SizePx(int(data["size"][0]), int(data["size"][1])),
        orientation=data["orientation"],
        taken=CaptureTime(datetime.fromisoformat(taken[0]), taken[1]) if taken else None,
        place=LonLat(*place) if place else None,
        camera=Camera(*camera) if camera else None,
        profile=data["profile"],
        rating=data["rating"],
        caption=data["caption"],
        remarks=tuple(Remark(*r) for r in data["remarks"]),
        gps_utc=datetime.fromisoformat(data["gps_utc"]) if data["gps_utc"] else None,
        credit=Credit(*data["credit"]) if data["credit"] else None,
    )
