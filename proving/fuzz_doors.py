"""All doors by their names."""

from __future__ import annotations

from collections.abc import Mapping

from proving.fuzz_desk import API, UPLOADED
from proving.fuzz_door import Door
from proving.fuzz_files import TOML
from proving.fuzz_fonts import FONTS
from proving.fuzz_journey import CALENDARS, STREETS, TRACKS
from proving.fuzz_kept import KEPT
from proving.fuzz_pictures import PICTURES
from proving.fuzz_texts import PROFILES, TEXTS

DOORS: Mapping[str, Door] = {
    door.name: door
    for door in (
        PICTURES, TRACKS, CALENDARS, STREETS, TOML, TEXTS, PROFILES, FONTS, KEPT, UPLOADED, API,
    )
}  # fmt: skip
