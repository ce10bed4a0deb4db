"""Skip a build step whose inputs are the same as last time."""

import hashlib
from collections.abc import Iterable
from pathlib import Path

STAMP_NAME = ".built-from"


def hash_inputs(files: Iterable[Path], *extra: str) -> str:
    """Digest of the files' names and bytes and of ``extra``, in a fixed order."""
    digest = hashlib.sha256()
    for text in extra:
        digest.update(text.encode() + b"\0")
    for path in sorted(files):
        digest.update(path.name.encode() + b"\0")
        digest.update(hashlib.sha256(path.read_bytes()).digest())
    return digest.hexdigest()


def is_fresh(folder: Path, digest: str) -> bool:
    """Tell whether ``folder`` was made from inputs of this digest."""
    stamp = folder / STAMP_NAME
    return stamp.is_file() and stamp.read_text("utf-8").strip() == digest


def write_stamp(folder: Path, digest: str) -> None:
    """Note what ``folder`` was made from; written last, so that a broken build is done again."""
    (folder / STAMP_NAME).write_text(digest + "\n", "utf-8")
