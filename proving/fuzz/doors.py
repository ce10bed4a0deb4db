"""All doors by their names."""

from __future__ import annotations

from collections.abc import Mapping

from proving.fuzz.desk import API, UPLOADED
from proving.fuzz.door import Door
from proving.fuzz.files import TOML
from proving.fuzz.fonts import FONTS
from proving.fuzz.journey import CALENDARS, STREETS, TRACKS
from proving.fuzz.kept import KEPT
from proving.fuzz.pictures import PICTURES
from proving.fuzz.texts import PROFILES, TEXTS
from proving.fuzz.whole_folder import WHOLE

DOORS: Mapping[str, Door] = {
    door.name: door
    for door in (
        PICTURES, TRACKS, CALENDARS, STREETS, TOML, TEXTS, PROFILES, FONTS, KEPT, UPLOADED, API,
        WHOLE,
    )
}  # fmt: skip
