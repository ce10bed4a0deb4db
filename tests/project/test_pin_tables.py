"""What is held fast goes into book.toml, and nothing else of the file changes."""

import tomllib

import pytest

from wayfold.base.errors import UserError
from wayfold.book.planning import PinChoice
from wayfold.project.pin_tables import hold_blocks

FILES = {
    "no plan": 'version = 1\n[book]\ntitle = "a" # mine\n[[chapter]]\nplace = "x"\n',
    "a plan": 'version = 1\n[plan]\nchoice = "balanced" # mine\n[book]\ntitle = "a"\n',
    "prices": 'version = 1\n[plan.prices] # mine\nsheet = 4\n[book]\ntitle = "a"\n',
    "pins": (
        'version = 1\n[plan]\nchoice = "balanced"\n\n[plan.prices]\nsheet = 4\n\n'
        '[[plan.pin]] # mine\nblock = "a"\npage = 3\n\n[[plan.pin]]\nblock = "b"\npage = 5\n\n'
        '[book]\ntitle = "a"\n'
    ),
    "two of one block": (
        '# mine\n[[plan.pin]]\nblock = "a"\npage = 3\n[[plan.pin]]\nblock = "b"\nstays = true\n'
        '[[plan.pin]]\nblock = "a"\ncentre = true\n'
    ),
    "scattered": (
        'version = 1\n[[plan.pin]]\nblock = "b"\npage = 3\n[book]\ntitle = "a" # mine\n'
        '[[plan.pin]]\nblock = "c"\npage = 5'
    ),
    "in a row": '# mine\n[plan]\npin = [{block = "a", page = 3}, {block = "b", page = 5}]\n',
    "dotted": 'plan.choice = "balanced" # mine\n[book]\ntitle = "a"\n',
}


def read_pins(text: str) -> dict[str, list[dict[str, object]]]:
    pins: dict[str, list[dict[str, object]]] = {}
    for table in tomllib.loads(text).get("plan", {}).get("pin", []):
        pins.setdefault(table["block"], []).append(table)
    return pins


@pytest.mark.parametrize("name", FILES)
def test_blocks_are_held_and_all_else_stays(name: str) -> None:
    text = FILES[name]
    pins = (PinChoice("a", way=2, centre=True), PinChoice("z:1", page=7, stays=True))
    held = hold_blocks(text, pins)
    wanted = read_pins(text)
    wanted["a"] = [{"block": "a", "way": 2, "centre": True}]
    wanted["z:1"] = [{"block": "z:1", "page": 7, "stays": True}]
    assert read_pins(held) == wanted
    assert "# mine" in held
    for part in (tomllib.loads(text), tomllib.loads(held)):
        part.get("plan", {}).pop("pin", None)
    before, after = tomllib.loads(text), tomllib.loads(held)
    for document in (before, after):
        document.get("plan", {}).pop("pin", None)
    assert {k: v for k, v in after.items() if v} == {k: v for k, v in before.items() if v}


def test_holding_again_changes_nothing() -> None:
    pins = (PinChoice("a", page=3), PinChoice("b", page=5))
    assert hold_blocks(FILES["pins"], pins) == FILES["pins"]


def test_what_cannot_be_changed_safely_is_told() -> None:
    scattered = FILES["scattered"] + '\n[[plan.pin]]\nblock = "a"\npage = 9\n'
    try:
        held = hold_blocks(scattered, (PinChoice("a", page=4),))
    except UserError as error:
        assert 'block = "a"' in error.remedy
        assert "page = 4" in error.remedy
    else:
        assert read_pins(held)["a"] == [{"block": "a", "page": 4}]


@pytest.mark.parametrize("name", FILES)
def test_a_pin_that_says_nothing_lets_its_block_go(name: str) -> None:
    text = FILES[name]
    freed = hold_blocks(text, (PinChoice("a"), PinChoice("nobody")))
    assert read_pins(freed) == {b: pins for b, pins in read_pins(text).items() if b != "a"}
    assert "# mine" in freed or name == "pins"  # that comment stood on what was let go
    assert hold_blocks(freed, (PinChoice("a"),)) == freed
