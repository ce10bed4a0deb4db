"""The letters by which gatherings are told apart."""

from __future__ import annotations

import itertools
from collections.abc import Sequence

ALPHABET = "ABCDEFGHIKLMNOPQRSTVXYZ"
"""The 23 letters of the hand-press printers: no J, no U, no W (STCV manual, collation formula)."""


RAISED = str.maketrans("0123456789", "⁰¹²³⁴⁵⁶⁷⁸⁹")


def signature_of(gathering: int) -> str:
    """Give the signature of a gathering (from 1): A … Z, then Aa … Zz, Aaa … and so on."""
    if gathering < 1:
        raise ValueError("gatherings count from 1")
    rounds, place = divmod(gathering - 1, len(ALPHABET))
    return ALPHABET[place] + ALPHABET[place].lower() * rounds


def write_collation(sheets: Sequence[int]) -> str:
    """Give the collation formula of gatherings of so many sheets: "A-D⁸ E⁶".

    Signatures in order with the number of leaves raised, like neighbours joined by a hyphen
    (F. Bowers, Principles of Bibliographical Description, 1949).
    """
    parts, number = [], 1
    for count, run in itertools.groupby(sheets):
        last = number + len(list(run)) - 1
        names = signature_of(number)
        if last > number:
            names += f"-{signature_of(last)}"
        parts.append(names + str(2 * count).translate(RAISED))
        number = last + 1
    return " ".join(parts)
