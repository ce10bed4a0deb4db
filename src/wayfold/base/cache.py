"""Where a stage may keep what it has worked out, by a key made of everything it depends on."""

from __future__ import annotations

from typing import Protocol


class Cache(Protocol):
    """Bytes by key. Losing any of them costs time and nothing else."""

    def get(self, key: str) -> bytes | None:
        """What was kept under ``key``, or None."""

    def put(self, key: str, data: bytes) -> None:
        """Keep ``data`` under ``key``."""


class NoCache:
    """A cache that keeps nothing."""

    def get(self, key: str) -> bytes | None:  # noqa: ARG002
        """Nothing is ever kept."""
        return None

    def put(self, key: str, data: bytes) -> None:
        """Forget at once."""
