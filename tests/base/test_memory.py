"""The memory gives what the function gives, and asks it no more than it must."""

from dataclasses import dataclass

from hypothesis import given
from hypothesis import strategies as st

from wayfold.base.memory import DEPTH, LASTING, Aside, Memory


@dataclass(frozen=True)
class Line:
    words: tuple[str, ...]


class Scribe:
    """Counts how often it is asked."""

    def __init__(self) -> None:
        self.asked = 0

    def write(self, text: str) -> Line:
        self.asked += 1
        return Line(tuple(text.split()))

    def forget(self, text: str, _teller: Aside[object]) -> Line:
        return self.write(text)


@given(st.lists(st.tuples(st.integers(0, 2), st.sampled_from(["a b", "a  b", "c", "", "d e"]))))
def test_it_gives_what_the_function_gives(asked: list[tuple[int, str]]) -> None:
    memory, scribe = Memory(), Scribe()
    for place, text in asked:
        assert memory.recall(scribe.write, text, at=place) == Line(tuple(text.split()))


def test_the_same_is_asked_once() -> None:
    memory, scribe = Memory(), Scribe()
    first = memory.recall(scribe.write, "a b", at=1)
    assert memory.recall(scribe.write, "a b", at=1) is first
    assert scribe.asked == 1


def test_going_back_asks_nothing_anew() -> None:
    memory, scribe = Memory(), Scribe()
    for text in ("one", "two", "one", "two"):
        memory.recall(scribe.write, text)
    assert scribe.asked == 2


def test_an_equal_answer_is_the_one_before() -> None:
    memory, scribe = Memory(), Scribe()
    first = memory.recall(scribe.write, "a b")
    assert memory.recall(scribe.write, "a   b") is first
    assert memory.keep(Line(("z",)), "line") is memory.keep(Line(("z",)), "line")


def test_places_are_told_apart() -> None:
    memory, scribe = Memory(), Scribe()
    memory.recall(scribe.write, "a", at=1)
    memory.recall(scribe.write, "a", at=2)
    assert scribe.asked == 2


def test_what_stands_aside_has_no_say() -> None:
    memory, scribe = Memory(), Scribe()
    memory.recall(scribe.forget, "a", Aside(object()))
    memory.recall(scribe.forget, "a", Aside(object()))
    assert scribe.asked == 1


def test_no_more_than_so_many_answers_are_kept() -> None:
    memory, scribe = Memory(), Scribe()
    for number in range(DEPTH + 1):
        memory.recall(scribe.write, str(number))
    memory.recall(scribe.write, "0")
    assert scribe.asked == DEPTH + 2


def test_what_is_long_not_asked_for_is_forgotten() -> None:
    memory, scribe = Memory(), Scribe()
    memory.begin()
    memory.recall(scribe.write, "a")
    for _ in range(LASTING + 1):
        memory.begin()
    memory.recall(scribe.write, "a")
    assert scribe.asked == 2
