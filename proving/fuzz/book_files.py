"""A book of all kinds of files, in which everything says something: what is spoilt."""

from __future__ import annotations

import json
import shutil
from collections.abc import Mapping
from pathlib import Path

from wayfold.base.geometry import Affine, Rect, Size
from wayfold.base.hashing import plain
from wayfold.press.ledger import PageInk, Part, SheetInk, SideInk
from wayfold.project.files import BookFolder

PHOTO = "p" * 8
MOVED = Affine(1.0, 0.0, 0.0, 1.0, 31.5, 24.5)
STYLE = "styles/own/style.toml"
_SIDE = SideInk(
    Size(483.0, 329.0),
    (PageInk(1, MOVED, Rect(0.0, 0.0, 210.0, 280.0), (Part("folio 1", "abc"),)),),
    "def",
)
INK = json.dumps(plain(SheetInk("1.1", _SIDE, _SIDE)))
FILES: Mapping[str, str] = {
    "book.toml": """\
version = 1  # of the form
[book]
title = "The Long Way"
author = "A. Maker"
finished = 2025-09-01
photographs = ["photographs"]
[page]
width_mm = 210.0
height_mm = 280.0
[paper]
use = "own sheet"
grain = "long"
[style]
name = "own"
[plan]
choice = "balanced"
prices = { tip_in = 3 }
[[plan.pin]]
block = "day 1"
page = 3
[[chapter]]
place = "Porto"
title = "Porto, *again*"
text = "porto"
accent = "#aa3311"
[layout]
[layout.ways]
"a b" = "stack"
""",
    "photos.toml": f"""\
version = 1
[photo.{PHOTO}]
file = "photographs/a.jpg"
content = "0123456789abcdef0123456789abcdef"
pick = "hero"
caption = "The quay"
crop = [0.0, 0.1, 0.9, 0.8]
# a word of mine
[photo."q-1"]
file = "photographs/b.jpg"
content = "1123456789abcdef0123456789abcdef"
""",
    "trip.toml": """\
version = 1
units = "miles"
leave_out = ["Dentist"]
[[stop]]
place = "Vila"
name = "Vila do Conde"
[[lodging]]
place = "Bilbao"
name = "The room over the river"
first = 2025-05-03
nights = 3
[[leg]]
from = "Bilbao"
to = "Barcelona"
mode = "train"
depart = 2025-05-06T09:20:00
arrive = 2025-05-06T15:58:00
[[day]]
date = 2025-05-04
note = "Rain until noon."
[[place]]
town = "Barcelona"
name = "A house"
at = [41.3917, 2.1649]
[clocks]
"Halden H7 70421985" = "+02:00, 3m20s fast"
[[clock_picture]]
photo = "DSC_0042.JPG"
shows = 2025-05-04T09:20:31
""",
    "materials.toml": """\
version = 1
[paper."own sheet"]
sheet_mm = [483, 329, "maker"]
caliper_um = [240, "measured"]
grain = "long"
""",
    STYLE: """\
version = 1
about = "Quiet"
ink = "#2a2723"
text_margins_mm = { inner = 22, outer = 26, head = 24, foot = 34 }
[sizes]
body = [10.5, 15.0]
""",
    "texts/porto.md": "# Porto\n\nWe went *west*.\n",
    "plan.lock.toml": """\
version = 1
story = "abc"
status = "optimal"
cost = 12
bound = 12
sheets = [2, 1]
printed = [1]
[[block]]
id = "day 1"
first_page = 3
pages = 2
alternative = 0
[[interleaf]]
gathering = 1
depth = 1
[[interleaf.end]]
after_page = 2
role = "wanted"
over = 3
[[interleaf.end]]
after_page = 6
role = "plain"
""",
    "printed.lock.toml": f"""\
version = 1
[[sheet]]
label = "1.1"
day = "2025-09-01"
looks = ["a", "b"]
viewer = "v"
code = "c"
ink = '{INK}'
""",
    "bench.lock.toml": """\
version = 1
[[done]]
of = "fold"
item = "1"
said = "Fold sheet 1"
day = "2025-09-01"
""",
}


def write_files(root: Path) -> BookFolder:
    """Write a book of all kinds of files, in place of what lies in ``root``."""
    shutil.rmtree(root, ignore_errors=True)
    for name, text in FILES.items():
        path = root / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    return BookFolder(root)
