"""The floor: nothing but making the print pictures of a book, with the imaging library alone.

``python benchmarks/floor.py JOBS.json FOLDER`` decodes, resizes and writes each picture of the list
in two processes. It does not sharpen, as Wayfold does.
"""

from __future__ import annotations

import json
import os
import sys
from multiprocessing import get_context
from pathlib import Path


def make(job: tuple[str, int, int, str]) -> None:
    import pyvips

    source, width_px, height_px, target = job
    image = pyvips.Image.thumbnail(source, width_px, height=height_px, size="down", crop="centre")
    image.jpegsave(target, Q=92, subsample_mode="off", keep="none")


if __name__ == "__main__":
    jobs = json.loads(Path(sys.argv[1]).read_text())
    os.environ["VIPS_CONCURRENCY"] = "1"
    with get_context("spawn").Pool(2) as pool:
        pool.map(make, [(*job, f"{sys.argv[2]}/{i}.jpg") for i, job in enumerate(jobs)], 4)
