"""What is told at the desk: the rooms' names for where one mends, and no path of the disk."""

from __future__ import annotations

import re
from typing import Annotated

from pydantic import AfterValidator

from wayfold.base.mends import Mend

AT_THE_DESK: dict[Mend, str] = {
    Mend.PHOTOGRAPHS: "photographs in book.toml, with an editor",
    Mend.OPENING_PHOTO: "opening_photo in book.toml, with an editor",
    Mend.STYLE: "[style] in book.toml, with an editor",
    Mend.PLAN: "[plan] in book.toml, with an editor",
    Mend.PRICES: "[plan.prices] in book.toml, with an editor",
    Mend.WAYS: "“Try another way” in Spread",
    Mend.BY_HAND: "“Give it back to the layout” in Spread",
    Mend.STOCK: "“In the cupboard”, under Cutting in Case and bench",
    Mend.BLOCK: "“Block as measured”, under Measures in Case and bench",
    Mend.PROFILE: "Colours on paper in Sheets",
    Mend.PICK: "“Take” or “Leave” in Pictures",
    Mend.CROP: "“Crop inside the frame” in Spread",
    Mend.STOPS: "Stops and ways in Journey",
    Mend.LEGS: "its way, under Stops and ways in Journey",
    Mend.LODGINGS: "“Say where you slept”, under Stops and ways in Journey",
    Mend.LEAVE_OUT: "“not of the journey”, under Days in Journey",
    Mend.CLOCKS: "“Keep this”, under Clocks in Journey",
    Mend.CLOCK_PICTURES: "“This picture shows a clock”, under Clocks in Journey",
    Mend.UNITS: "“Distances in”, under Stops and ways in Journey",
    Mend.FLAGS: "flags in trip.toml, with an editor",
    Mend.NEW: "“A new book”, where no book is open",
    Mend.MAKE: "“Make the print files” in Sheets",
    Mend.CHOOSE: "Pictures",
    Mend.ARRANGE: "“Try another way” in Spread",
    Mend.SETUP: "Paper and printer in Sheets",
    Mend.REGISTER: "Registration in Sheets",
    Mend.PRINTED: "“They lie printed” in Sheets",
    Mend.HISTORY: "“Undo”",
    Mend.COPIES: "“Look at both”, below at the desk",
}
"""What the desk calls each place: a control by its label, and the room it stands in. Of the few
things that no room decides yet, the file is named."""

# The longest first: the words of one mend may end as those of another.
_MEND = re.compile("|".join(re.escape(s) for s in sorted(Mend, key=len, reverse=True)))
# In findings a file stands before what it says; a line or a key is for whoever wrote it by hand.
_FILE_BEFORE = re.compile(r"^(?:book|photos|trip)\.toml, (?!line |\w+\.\w)")
# From a path's root to its last part; a path ends at quotes and brackets, or where another begins.
_ROOT = r"(?<![^\s\"'“‘(\[=])(?:file://)?(?:[A-Za-z]:[/\\]|[/\\]{1,2}|~/)(?=[^\s/\\])"
_PATH = re.compile(rf"{_ROOT}(?:(?!\s{_ROOT})[^\n\"'“”‘’)\]:,;])*[/\\](?=[^\s/\\])|{_ROOT}")


def word_for_desk(text: str) -> str:
    """Give a message as the desk tells it: rooms and controls for mends, files by their names."""
    named = _MEND.sub(lambda found: AT_THE_DESK[Mend(found[0])], text)
    return _PATH.sub("", _FILE_BEFORE.sub("", named))


Told = Annotated[str, AfterValidator(word_for_desk)]
"""A message of the stages on its way to the browser."""
