from __future__ import annotations

from collections.abc import Callable, Sequence

import pytest

from wayfold.drawing.text import Paragraph
from wayfold.maps.model import Outline
from wayfold.maps.outlines import load_outlines
from wayfold.typeset.engine import Typesetter


@pytest.fixture(scope="session")
def outlines() -> tuple[Outline, ...]:
    return load_outlines()


@pytest.fixture(scope="session")
def setter() -> Typesetter:
    return Typesetter()


@pytest.fixture(scope="session")
def widths(setter: Typesetter) -> Callable[[Sequence[Paragraph]], tuple[float, ...]]:
    return setter.measure_widths
