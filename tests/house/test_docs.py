"""What the documents say of the code is so."""

import dataclasses
import re
from pathlib import Path

from wayfold.plan.prices import PRICES

DOCS = Path(__file__).parents[2] / "docs"
SOURCES = Path(__file__).parents[2] / "src" / "wayfold"


def test_every_price_of_the_planner_is_told_as_it_is() -> None:
    text = (DOCS / "planning.md").read_text("utf-8")
    told = {
        name: int(points) for name, points in re.findall(r"^\| `(\w+)` \| (\d+) \|", text, re.M)
    }
    assert told == dataclasses.asdict(PRICES)


def test_every_rule_of_the_checks_has_its_heading() -> None:
    rules = {
        name
        for path in (SOURCES / "checks" / "rules").glob("*.py")
        for name in re.findall(r'^RULE = "([a-z-]+)"', path.read_text("utf-8"), re.M)
    }
    headings = re.findall(r"^### .*\((.+)\)$", (DOCS / "checks.md").read_text("utf-8"), re.M)
    assert rules == {name for heading in headings for name in re.findall(r"`([a-z-]+)`", heading)}


def test_words_explained_at_the_desk_are_those_of_the_glossary() -> None:
    catalogue = Path(__file__).parents[2] / "desk-ui" / "src" / "texts" / "en" / "glossary.ts"
    explained = re.findall(r"^  '?([a-z -]+)'?:", catalogue.read_text("utf-8"), re.M)
    known = re.findall(r"^\| ([^|]+?) \|", (DOCS / "glossary.md").read_text("utf-8"), re.M)
    assert explained
    assert set(explained) - set(known) == set()
