"""Identities against BLAKE2b as RFC 7693 defines it, and their steadiness from run to run."""

import enum
import os
import subprocess
import sys
from dataclasses import dataclass
from datetime import date, datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wayfold.base.hashing import DIGEST_BYTES, hash_bytes, hash_chunks, hash_values, plain

# RFC 7693, section 2.6 (the first 64 bits of the fractions of the square roots of the first
# eight primes) and section 2.7 (the message schedule).
IV = (
    *(0x6A09E667F3BCC908, 0xBB67AE8584CAA73B, 0x3C6EF372FE94F82B, 0xA54FF53A5F1D36F1),
    *(0x510E527FADE682D1, 0x9B05688C2B3E6C1F, 0x1F83D9ABFB41BD6B, 0x5BE0CD19137E2179),
)
SIGMA = (
    (0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15),
    (14, 10, 4, 8, 9, 15, 13, 6, 1, 12, 0, 2, 11, 7, 5, 3),
    (11, 8, 12, 0, 5, 2, 15, 13, 10, 14, 3, 6, 7, 1, 9, 4),
    (7, 9, 3, 1, 13, 12, 11, 14, 2, 6, 5, 10, 4, 0, 15, 8),
    (9, 0, 5, 7, 2, 4, 10, 15, 14, 1, 11, 12, 6, 8, 3, 13),
    (2, 12, 6, 10, 0, 11, 8, 3, 4, 13, 7, 5, 15, 14, 1, 9),
    (12, 5, 1, 15, 14, 13, 4, 10, 0, 7, 6, 3, 9, 2, 8, 11),
    (13, 11, 7, 14, 12, 1, 3, 9, 5, 0, 15, 4, 8, 6, 2, 10),
    (6, 15, 14, 9, 11, 3, 0, 8, 12, 2, 13, 7, 1, 4, 10, 5),
    (10, 2, 8, 4, 7, 6, 1, 5, 15, 11, 9, 14, 3, 12, 13, 0),
)
MIXES = (
    *((0, 4, 8, 12), (1, 5, 9, 13), (2, 6, 10, 14), (3, 7, 11, 15)),
    *((0, 5, 10, 15), (1, 6, 11, 12), (2, 7, 8, 13), (3, 4, 9, 14)),
)
WORD = (1 << 64) - 1

# RFC 7693, appendix A: BLAKE2b-512("abc").
ABC_512 = (
    "ba80a53f981c4d0d6a2797b69f12f6e94c212f14685ac4b74b12bb6fdbffa2d1"
    "7d87c5392aab792dc252d5de4533cc9518d38aa8dbf1925ab92386edd4009923"
)


def blake2b(data: bytes, digest_bytes: int) -> str:
    """Unkeyed BLAKE2b, step by step as in RFC 7693, sections 3.1 to 3.3."""
    state = list(IV)
    state[0] ^= 0x01010000 ^ digest_bytes
    blocks = [data[i : i + 128] for i in range(0, len(data), 128)] or [b""]
    for number, block in enumerate(blocks, 1):
        last = number == len(blocks)
        compress(state, block.ljust(128, b"\0"), len(data) if last else 128 * number, last)
    return b"".join(word.to_bytes(8, "little") for word in state)[:digest_bytes].hex()


def compress(state: list[int], block: bytes, count: int, last: bool) -> None:
    message = [int.from_bytes(block[i : i + 8], "little") for i in range(0, 128, 8)]
    work = [*state, *IV]
    work[12] ^= count & WORD
    work[13] ^= count >> 64
    if last:
        work[14] ^= WORD
    for round_number in range(12):
        order = SIGMA[round_number % 10]
        for step, (a, b, c, d) in enumerate(MIXES):
            for word, first, second in (
                (message[order[2 * step]], 32, 24),
                (message[order[2 * step + 1]], 16, 63),
            ):
                work[a] = (work[a] + work[b] + word) & WORD
                work[d] = rotate(work[d] ^ work[a], first)
                work[c] = (work[c] + work[d]) & WORD
                work[b] = rotate(work[b] ^ work[c], second)
    for i in range(8):
        state[i] ^= work[i] ^ work[i + 8]


def rotate(word: int, by: int) -> int:
    return (word >> by | word << (64 - by)) & WORD


def test_the_reference_gives_the_published_digest():
    assert blake2b(b"abc", 64) == ABC_512


@pytest.mark.parametrize("data", [b"", b"abc", b"x" * 127, b"x" * 128, b"x" * 129, bytes(1000)])
def test_bytes_hash_as_the_standard_says(data):
    assert hash_bytes(data) == blake2b(data, DIGEST_BYTES)
    assert len(hash_bytes(data)) == 32


@given(st.lists(st.binary(max_size=300), max_size=6))
def test_chunks_hash_as_their_whole(chunks):
    assert hash_chunks(chunks) == hash_bytes(b"".join(chunks))


class Shade(enum.Enum):
    DARK = "dark"


@dataclass(frozen=True)
class Thing:
    name: str
    size: float
    parts: tuple[int, ...] = ()


@dataclass(frozen=True)
class Other:
    name: str
    size: float
    parts: tuple[int, ...] = ()


SAMPLES = [
    None,
    True,
    1,
    1.5,
    "1.5",
    "a",
    "é",
    Shade.DARK,
    date(2025, 10, 11),
    datetime(2025, 10, 11, 17, 42),
    b"bytes",
    (1, (2, 3)),
    ((1, 2), 3),
    {"b": 1, "a": 2},
    Thing("x", 1.0),
    Thing("x", 1.0, (1,)),
    Other("x", 1.0),
]


def test_different_values_have_different_identities():
    assert len({hash_values(sample) for sample in SAMPLES}) == len(SAMPLES)
    assert hash_values(1, 2) != hash_values((1, 2))
    assert hash_values("ab", "c") != hash_values("a", "bc")


@pytest.mark.parametrize("sample", SAMPLES, ids=range(len(SAMPLES)))
def test_equal_values_have_one_identity(sample):
    assert hash_values(sample) == hash_values(sample)


@given(st.integers(-(2**53), 2**53))
def test_whole_numbers_are_one_value_however_stored(number):
    # IEEE 754: a double holds every whole number up to 2**53.
    assert hash_values(number) == hash_values(float(number))


@given(st.floats(allow_nan=False), st.floats(allow_nan=False))
def test_numbers_share_an_identity_only_if_equal(one, other):
    assert (hash_values(one) == hash_values(other)) == (one == other)


def test_the_order_of_a_mapping_does_not_count():
    assert hash_values({"a": 1, "b": 2}) == hash_values({"b": 2, "a": 1})


def test_a_tenth_and_two_are_not_three_tenths():
    # IEEE 754: 0.1 + 0.2 is not the double nearest to 0.3.
    assert hash_values(0.1 + 0.2) != hash_values(0.3)


@pytest.mark.parametrize(
    "value",
    [{1, 2}, object(), len, int, frozenset("ab")],
    ids=["set", "object", "function", "type", "frozenset"],
)
def test_what_has_no_fixed_form_is_refused(value):
    with pytest.raises(TypeError):
        hash_values(value)


def test_plain_values_name_their_type():
    assert plain(Thing("x", 1.0, (1, 2))) == ["Thing", "x", 1, [1, 2]]


PROGRAM = """
from datetime import date
from wayfold.base.geometry import Rect
from wayfold.base.hashing import hash_values
from wayfold.base.findings import Severity
marks = {str(n): Rect(n, 0.1, 1 / 3, 2e300) for n in range(50)}
print(hash_values(marks, Severity.WARN, date(2025, 10, 11), "é", ("a", None, True), b"abc"))
"""


def test_identities_are_the_same_in_every_run():
    seen = {
        subprocess.run(
            [sys.executable, "-c", PROGRAM],
            env={**os.environ, "PYTHONHASHSEED": seed},
            capture_output=True,
            text=True,
            check=True,
        ).stdout
        for seed in ("0", "1", "4242")
    }
    assert len(seen) == 1
    assert len(seen.pop().strip()) == 32
