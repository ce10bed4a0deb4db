"""Where long runs try things: in memory where the system has such a place, for disks are slow."""

from __future__ import annotations

import contextlib
import shutil
import tempfile
from collections.abc import Iterator
from pathlib import Path

IN_MEMORY = Path("/dev/shm")
LEAST_FREE = 4 << 30


@contextlib.contextmanager
def open_room(name: str) -> Iterator[Path]:
    """Give an empty folder that is taken away in the end."""
    is_wide = IN_MEMORY.is_dir() and shutil.disk_usage(IN_MEMORY).free >= LEAST_FREE
    with tempfile.TemporaryDirectory(
        prefix=f"wayfold-{name}-", dir=IN_MEMORY if is_wide else None, ignore_cleanup_errors=True
    ) as room:
        yield Path(room).resolve()
