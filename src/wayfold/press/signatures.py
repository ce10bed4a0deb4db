"""The letters by which gatherings are told apart."""

from __future__ import annotations

ALPHABET = "ABCDEFGHIKLMNOPQRSTVXYZ"
"""The 23 letters of the hand-press printers: no J, no U, no W (STCV manual, collation formula)."""


def signature_of(gathering: int) -> str:
    """Give the signature of a gathering (from 1): A … Z, then Aa … Zz, Aaa … and so on."""
    if gathering < 1:
        raise ValueError("gatherings count from 1")
    rounds, place = divmod(gathering - 1, len(ALPHABET))
    return ALPHABET[place] + ALPHABET[place].lower() * rounds
