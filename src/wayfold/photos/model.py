"""What is known of each photograph once its file has been read."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from wayfold.base.world import LonLat
from wayfold.photos.look import Look


@dataclass(frozen=True, slots=True)
class SizePx:
    """Pixels across and down, of the upright picture."""

    width_px: int
    height_px: int

    @property
    def aspect(self) -> float:
        """Width over height."""
        return self.width_px / self.height_px


@dataclass(frozen=True, slots=True)
class CaptureTime:
    """When a picture was taken, as the camera's clock told it.

    ``local`` has no zone; ``offset_minutes`` east of UTC where the file says so.
    """

    local: datetime
    offset_minutes: int | None = None


@dataclass(frozen=True, slots=True)
class Camera:
    """A camera body, as far as its files name it."""

    make: str = ""
    model: str = ""
    serial: str = ""


@dataclass(frozen=True, slots=True)
class Credit:
    """Who made a picture, and the notice of rights in it, as its file says."""

    creator: str = ""
    rights: str = ""


@dataclass(frozen=True, slots=True)
class Photo:
    """One photograph, however many copies of its file lie about.

    ``id`` is short, given once, and stays with the picture through moves and edits elsewhere;
    ``content`` is the identity of the file's bytes as they are now. ``path`` is absolute
    (posix form). ``gps_utc`` is the receiver's own time (aware, UTC), which may be that of an older
    fix. ``orientation`` is the EXIF value 1-8 that the file's pixels need to stand
    upright; ``size`` is upright already. ``profile`` names the ICC profile ("sRGB" where the
    file has none). ``caption`` and ``rating`` (0-5) come from the file's own metadata.
    """

    id: str
    content: str
    path: str
    size: SizePx
    orientation: int = 1
    file_format: str = "JPEG"
    taken: CaptureTime | None = None
    place: LonLat | None = None
    camera: Camera | None = None
    profile: str = "sRGB"
    rating: int | None = None
    caption: str | None = None
    gps_utc: datetime | None = None
    credit: Credit | None = None
    look: Look | None = None
    """What was measured of the picture itself, once it was looked at."""

    def bare(self) -> Photo:
        """Give what it shows, and no more: not its file, nor when and where it was taken.

        What hangs on that alone is the same in a book that was moved to another folder or disk.
        """
        return Photo(self.id, "", "", self.size, rating=self.rating, look=self.look)
