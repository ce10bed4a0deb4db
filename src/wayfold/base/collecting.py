"""How often Python looks through all values for some that hang on to each other only."""

from __future__ import annotations

import gc

OFTEN = (20_000, 50, 10)
"""A book is hundreds of thousands of values that stay. As Python does it by itself they were looked
through again and again while the book was opened, which took a quarter of that time."""


def collect_seldom() -> None:
    """Have values looked through after ``OFTEN`` new ones; the last are for all there are."""
    gc.set_threshold(*OFTEN)
