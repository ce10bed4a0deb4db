"""What the documents say of the code is so."""

import dataclasses
import re
from pathlib import Path

from wayfold.plan.prices import PRICES

DOCS = Path(__file__).parents[2] / "docs"


def test_every_price_of_the_planner_is_told_as_it_is() -> None:
    text = (DOCS / "planning.md").read_text("utf-8")
    told = {
        name: int(points) for name, points in re.findall(r"^\| `(\w+)` \| (\d+) \|", text, re.M)
    }
    assert told == dataclasses.asdict(PRICES)
