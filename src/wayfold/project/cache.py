"""The cache beside a book: files named by content. Deleting it costs time and nothing else."""

from __future__ import annotations

from pathlib import Path

from wayfold.project.files import write_whole


class DiskCache:
    """Bytes and files by key, in one folder a stage."""

    def __init__(self, root: Path, stage: str, suffix: str = "") -> None:
        """Keep the stage's files under ``root / stage``; ``suffix`` ends their names."""
        self._folder = root / stage
        self._suffix = suffix

    def path(self, key: str) -> Path:
        """Where ``key``'s file lies or will lie; its folder is made."""
        folder = self._folder / key[:2]
        folder.mkdir(parents=True, exist_ok=True)
        return folder / f"{key}{self._suffix}"

    def has(self, key: str) -> bool:
        """Whether something is kept under ``key``."""
        return (self._folder / key[:2] / f"{key}{self._suffix}").is_file()

    def get(self, key: str) -> bytes | None:
        """What is kept under ``key``, or None."""
        try:
            return (self._folder / key[:2] / f"{key}{self._suffix}").read_bytes()
        except FileNotFoundError:
            return None

    def put(self, key: str, data: bytes) -> None:
        """Keep ``data`` under ``key``."""
        write_whole(self.path(key), data, lasting=False)
