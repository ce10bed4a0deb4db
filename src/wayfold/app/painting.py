"""Washes painted: a print file and a miniature of each, kept by what it is."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from wayfold.app.identity import code_key, library_key
from wayfold.base.errors import UserError
from wayfold.base.hashing import hash_values
from wayfold.base.mends import Mend
from wayfold.base.progress import Progress
from wayfold.photos.crew import Crew, Lost
from wayfold.photos.model import SizePx
from wayfold.photos.painted import write_painted
from wayfold.washes.model import PPI, Wash
from wayfold.washes.paint import paint_wash

WORTH_PROCESSES = 4
"""So many washes are painted sooner by two processes, their start included."""


@dataclass(frozen=True, slots=True)
class PaintJob:
    """One wash, and the files to write."""

    wash: Wash
    target: Path
    miniature: Path


def wash_key(wash: Wash) -> str:
    """Give the identity of a wash's files, the code that paints them included."""
    return hash_values(wash, code_key("washes", "photos"), library_key())


def paint_washes(jobs: Sequence[PaintJob], progress: Progress, workers: int = 2) -> None:
    """Paint washes. Raises UserError where files cannot be written, or there is no memory."""
    crew_size = workers if len(jobs) >= WORTH_PROCESSES else 0
    with progress.task("Painting washes", len(jobs)) as task, Crew(crew_size) as crew:
        for outcome in crew.run(paint, jobs, portion=1):
            if isinstance(outcome.result, Lost):
                raise UserError(
                    "A wash could not be painted: there was not memory enough.",
                    remedy='Close other programs and try again, or have none: washes = "none", '
                    f"{Mend.STYLE}.",
                )
            task.advance()


def paint(job: PaintJob) -> None:
    """Paint one wash in this process."""
    raster = paint_wash(job.wash)
    size = SizePx(raster.width_px, raster.height_px)
    write_painted(raster.pixels, size, PPI, job.target, job.miniature)
