"""docs/bench.md tells every setting as it is: its start, what is usual, and who says so."""

from pathlib import Path

import pytest

from wayfold.book.casing import Casing, Pocket, Sewing
from wayfold.case.settings import SETTINGS, Setting

DOC = (Path(__file__).parents[2] / "docs" / "bench.md").read_text("utf-8")
START = {"case": Casing(), "sewing": Sewing(), "pocket": Pocket()}


@pytest.mark.parametrize("setting", SETTINGS, ids=lambda s: s.key)
def test_a_setting_is_told_as_it_is(setting: Setting) -> None:
    table, key = setting.key.split(".")
    value = getattr(START[table], key.removesuffix("_mm"))
    start = "—" if value is None else f"{value:g}"
    assert f"| `{setting.key}` | {start} | {setting.range} | {setting.source} |" in DOC
    assert value is None or setting.low <= value <= setting.high


def test_the_starts_are_those_of_the_table_of_disagreeing_sources() -> None:
    """Where handbooks disagree (ranges in ``case.settings``) one value is offered, none hidden."""
    casing, sewing = Casing(), Sewing()
    assert (sewing.kettle, sewing.swell_factor) == (12.0, 0.5)
    assert (casing.square, casing.board_less, casing.joint) == (3.0, 3.5, 8.0)
    assert (casing.turn_in, casing.mitre_factor) == (16.0, 1.5)
