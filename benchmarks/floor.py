"""The floor: nothing but making a book's print pictures, with the imaging library alone.

``python -m benchmarks.floor JOBS.json FOLDER [--sharpen]`` decodes, resizes, sharpens if asked to,
and writes every picture of the list in two processes. It shares no code with Wayfold: this is what
anybody would write who wants just these files.
"""

from __future__ import annotations

import json
import os
import sys
from dataclasses import dataclass
from functools import partial
from multiprocessing import get_context
from pathlib import Path


@dataclass(frozen=True, slots=True)
class Job:
    """Scale the upright picture to ``whole`` pixels and cut ``part`` (left, top, width, height)."""

    source: str
    whole: tuple[int, int]
    part: tuple[int, int, int, int]


def make(job: Job, number: int, folder: str, sharpen: bool) -> None:
    import pyvips

    image = pyvips.Image.thumbnail(job.source, job.whole[0], height=job.whole[1], size="force")
    image = image.crop(*job.part)
    if sharpen:
        image = image.sharpen(sigma=1.0)
    image.jpegsave(f"{folder}/{number}.jpg", Q=92, subsample_mode="off", keep="icc")


def main(jobs: list[Job], folder: str, sharpen: bool) -> None:
    os.environ["VIPS_CONCURRENCY"] = "1"  # two processes of one thread each use two cores best
    with get_context("spawn").Pool(2) as pool:
        work = partial(make, folder=folder, sharpen=sharpen)
        pool.starmap(work, ((job, i) for i, job in enumerate(jobs)), chunksize=4)


if __name__ == "__main__":
    rows = json.loads(Path(sys.argv[1]).read_text())
    main([Job(r[0], tuple(r[1]), tuple(r[2])) for r in rows], sys.argv[2], "--sharpen" in sys.argv)
