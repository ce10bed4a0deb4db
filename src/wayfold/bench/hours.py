"""How long the work takes: hands-on minutes by piece of work, for two kinds of hands.

Minutes are from memory and from makers' logs; what was found in print is that a tip-in takes 15
minutes at most (a university library's guide), and a small case-bound book 90 minutes or more for
its block and 60 or more for its case (two bench logs). A maker's own first book is the best source.
"""

from __future__ import annotations

from dataclasses import dataclass

from wayfold.book.casing import Practice


@dataclass(frozen=True, slots=True)
class Labour:
    """A kind of work: minutes for one piece of it by a beginner and by practised hands."""

    name: str
    beginner: float
    practised: float

    def minutes(self, hand: Practice, pieces: float = 1.0) -> float:
        """Give the minutes for so many pieces."""
        return pieces * (self.beginner if hand is Practice.BEGINNER else self.practised)


PRINT = Labour("printing", 6.0, 3.0)
FOLD = Labour("folding and boning", 1.0, 0.5)
GATHER = Labour("gathering and pressing", 1.0, 0.5)
PRICK = Labour("pricking", 3.0, 1.0)
SEW = Labour("sewing", 9.0, 4.5)
TIP = Labour("tipping in leaves", 15.0, 5.0)
GLUE = Labour("gluing and lining the spine", 20.0, 10.0)
ENDPAPERS = Labour("endpapers", 20.0, 10.0)
BOARDS = Labour("cutting the boards", 30.0, 15.0)
COVER = Labour("covering the case", 60.0, 30.0)
CASE_IN = Labour("casing in", 20.0, 10.0)
POCKET = Labour("the pocket", 40.0, 20.0)


@dataclass(frozen=True, slots=True)
class Work:
    """How much there is to do."""

    sides: int
    sheets: int
    folded_leaves: int
    tipped_leaves: int
    gatherings: int
    pocket: bool


def count_minutes(work: Work, hand: Practice) -> dict[str, float]:
    """Give the hands-on minutes by piece of work, in the order of the work."""
    jobs: list[tuple[Labour, float]] = [
        (PRINT, work.sides),
        (FOLD, work.sheets + work.folded_leaves),
        (GATHER, work.gatherings),
        (PRICK, work.gatherings),
        (TIP, work.tipped_leaves),
        (SEW, work.gatherings),
        (ENDPAPERS, 1),
        (GLUE, 1),
        (BOARDS, 1),
        (COVER, 1),
        (POCKET, 1 if work.pocket else 0),
        (CASE_IN, 1),
    ]
    return {labour.name: labour.minutes(hand, count) for labour, count in jobs if count}


def tell_time(minutes: float) -> str:
    """Say minutes as people do: "25 minutes", "about 2½ hours"."""
    if minutes < 60:
        rounded = max(5, 5 * round(minutes / 5))
        return f"{rounded} minutes"
    halves = round(minutes / 30)
    whole, half = divmod(halves, 2)
    number = f"{whole}{'½' if half else ''}"
    return f"{number} hour" if number == "1" else f"{number} hours"
