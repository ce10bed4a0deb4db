"""Reads the invented journey from the data files beside this module."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from datetime import datetime
from importlib.resources import files
from importlib.resources.abc import Traversable
from typing import Any

from wayfold.base.geometry import Rect
from wayfold.base.world import LonLat
from wayfold.demo.model import CameraBody, Chapter, Credit, Journey, Painting, Shot, Town

_READ_APART = ("credit", "place", "crop", "keywords", "shown")
PAINTED_CREDIT = Credit("Painted by Wayfold", "Wayfold", "CC0-1.0", "wayfold")


def read_journey() -> Journey:
    """Give the whole journey, photographs and paintings, as its data files tell it.

    A mistake in these files is a bug of the package: KeyError, TypeError or ValueError.
    """
    folder = files("wayfold.demo") / "journey"
    top = _read_toml(folder / "journey.toml")
    return Journey(
        title=top["title"],
        subtitle=top["subtitle"],
        author=top["author"],
        language=top["language"],
        bodies=tuple(CameraBody(**body) for body in top["bodies"]),
        chapters=tuple(
            _read_chapter(key, _read_toml(folder / f"{key}.toml")) for key in top["chapters"]
        ),
    )


def read_text(key: str) -> str:
    """Give one of the demo's texts (Markdown)."""
    return (files("wayfold.demo") / "texts" / f"{key}.md").read_text("utf-8")


def read_journey_file(name: str) -> bytes:
    """Give a file that the demo's makers put into their book's folder as it is."""
    return (files("wayfold.demo") / "journey" / name).read_bytes()


def _read_toml(source: Traversable) -> dict[str, Any]:
    return tomllib.loads(source.read_text("utf-8"))


def _read_chapter(key: str, data: Mapping[str, Any]) -> Chapter:
    return Chapter(
        key=key,
        heading=data["heading"],
        subtitle=data["subtitle"],
        text=data["text"],
        accent=data["accent"],
        towns=tuple(Town(t["name"], t["country"], LonLat(*t["place"])) for t in data["towns"]),
        shots=tuple(_read_shot(s) for s in data["shots"]),
        painted=tuple(_read_painted(key, i, p) for i, p in enumerate(data["painted"], 1)),
        mapped=data.get("mapped", False),
    )


def _read_shot(data: Mapping[str, Any]) -> Shot:
    rest = {k: v for k, v in data.items() if k not in _READ_APART}
    return Shot(
        credit=Credit(**data["credit"]),
        place=_read_place(data),
        crop=Rect(*data["crop"]) if "crop" in data else None,
        shown=_read_shown(data),
        keywords=tuple(data.get("keywords", ())),
        **rest,
    )


def _read_painted(chapter: str, number: int, data: Mapping[str, Any]) -> Shot:
    taken: datetime = data["taken"]
    scene, hour = data["scene"], data["hour"]
    return Shot(
        key=f"{chapter}-painted-{number}",
        source="",
        credit=PAINTED_CREDIT,
        seen=f"A painted picture: {scene}, {hour}",
        caption=data["caption"],
        taken=taken,
        body=data["body"],
        place=_read_place(data),
        rating=data.get("rating", 3),
        hero=data.get("hero", False),
        # Painted scenes keep towers, boats and the sun out of the middle third.
        bears_fold=True,
        bleeds=True,
        caption_in="xmp",
        keywords=(scene, hour),
        painting=Painting(scene, hour, data["seed"]),
        opens=data.get("opens", False),
        veiled=data.get("veiled", False),
        shown=_read_shown(data),
    )


def _read_shown(data: Mapping[str, Any]) -> Rect | None:
    return Rect(*data["shown"]) if "shown" in data else None


def _read_place(data: Mapping[str, Any]) -> LonLat | None:
    return LonLat(*data["place"]) if "place" in data else None
