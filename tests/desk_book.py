"""A small journey of our own for the desk's tests: two cameras, two towns, four days.

The telephone knows its places and the right time; the camera's clock stands an hour and four
minutes late, and it knows no places. Pictures are painted gradients, all different.
"""

import shutil
from datetime import datetime, timedelta
from pathlib import Path

from PIL import Image

from wayfold.app.new import begin_book
from wayfold.app.shelf import Shelf
from wayfold.base.progress import NoProgress

# Two towns with known places (from memory): Lisbon, Porto.
LISBON, PORTO = (38.7223, -9.1393), (41.1496, -8.6110)
START = datetime(2025, 5, 12, 9, 30)
CAMERA_LATE = timedelta(hours=1, minutes=4)
TRACK = b"""<?xml version="1.0"?>
<gpx version="1.1" creator="ours" xmlns="http://www.topografix.com/GPX/1/1"><trk><trkseg>
<trkpt lat="38.7223" lon="-9.1393"><time>2025-05-12T09:30:00Z</time></trkpt>
<trkpt lat="38.7300" lon="-9.1400"><time>2025-05-12T09:40:00Z</time></trkpt>
</trkseg></trk></gpx>
"""
CALENDAR = b"""BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:ours\r\nBEGIN:VEVENT\r
UID:1@ours\r\nDTSTAMP:20250501T000000Z\r\nDTSTART:20250512T180000Z\r
SUMMARY:Supper by the harbour\r\nEND:VEVENT\r\nEND:VCALENDAR\r\n"""
SIZES = ((1500, 1000), (1000, 1500), (1600, 900))
DAYS, A_DAY = 4, 8
EXIF_IFD, GPS_IFD = 0x8769, 0x8825
MAKE, MODEL, DATE, SERIAL = 0x010F, 0x0110, 0x9003, 0xA431


def paint(path: Path, number: int, taken: datetime, place: tuple[float, float] | None) -> None:
    """Write picture ``number``; with a ``place`` it is the telephone's, else the camera's."""
    size = SIZES[number % 3]
    across = Image.linear_gradient("L").rotate(90).resize(size)
    down = Image.linear_gradient("L").resize(size)
    hue = Image.new("L", size, number * 37 % 256)
    picture = Image.merge("HSV", (hue, across, down)).convert("RGB")
    spot = Image.new("RGB", (120, 120), (number * 53 % 256, 90, number * 91 % 256))
    picture.paste(spot, (80 + 97 * number % (size[0] - 240), 60 + 61 * number % (size[1] - 240)))
    exif = picture.getexif()
    exif.get_ifd(EXIF_IFD)[DATE] = taken.strftime("%Y:%m:%d %H:%M:%S")
    if place is None:
        exif[MAKE], exif[MODEL] = "Halden", "H7"
        exif.get_ifd(EXIF_IFD)[SERIAL] = "70421985"
    else:
        exif[MAKE], exif[MODEL] = "Kestle", "Pocket 3"
        latitude, longitude = place
        gps = exif.get_ifd(GPS_IFD)
        gps[1], gps[2] = "N", sexagesimal(latitude)
        gps[3], gps[4] = "E" if longitude >= 0 else "W", sexagesimal(abs(longitude))
    path.parent.mkdir(parents=True, exist_ok=True)
    picture.save(path, quality=88, exif=exif)


def sexagesimal(degrees: float) -> tuple[float, float, float]:
    """Degrees, minutes and seconds, as EXIF has latitudes and longitudes."""
    minutes, seconds = divmod(degrees * 3600, 60)
    whole, minutes = divmod(minutes, 60)
    return (whole, minutes, seconds)


def paint_journey(folder: Path) -> None:
    """Paint all pictures: every second one the camera's, an hour and four minutes late."""
    for number in range(DAYS * A_DAY):
        day, hour = divmod(number, A_DAY)
        taken = START + timedelta(days=day, minutes=75 * hour)
        if number % 2:
            paint(folder / "camera" / f"H{number:04}.jpg", number, taken - CAMERA_LATE, None)
        else:
            place = LISBON if day < 2 else PORTO
            paint(folder / "telephone" / f"IMG_{number:04}.jpg", number, taken, place)


def write_book(root: Path) -> Path:
    """Begin the book in ``root``, with a foreword, and open it once so that its cache is warm."""
    paint_journey(root / "photographs")
    begin_book(root, "Four Days by the Atlantic", [root / "photographs"])
    (root / "texts" / "foreword.md").write_text("We went *west*.\n", encoding="utf-8")
    open_book(root).session.close()
    return root


def open_book(root: Path) -> Shelf:
    """Put the book in ``root`` on a shelf."""
    shelf = Shelf()
    shelf.open(root, NoProgress())
    return shelf


def copy_book(source: Path, target: Path) -> Path:
    """Copy a book with its cache and times, for a test that changes it."""
    shutil.copytree(source, target)
    return target
