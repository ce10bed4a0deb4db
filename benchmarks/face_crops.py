"""Lays many parts of pictures with faces in every way on pages of many shapes; counts harm.

    python -m benchmarks.face_crops [PARTS]

The faces are those boxed by hand in ``tests/labelled_faces.toml``.
"""

from __future__ import annotations

import random
import sys
from collections import Counter
from collections.abc import Sequence

from tests.labelled_faces import Labelled, read_labels, take_parts
from tests.layout.face_pages import (
    PAGES,
    TRIMS,
    find_wrongs,
    lay_by_all,
    look_by_labels,
    make_photo,
)

PARTS, SEED = 300, 7
MOST_IN_A_GROUP = 5
TO_FACES = (0.6, 1.0)
"""How much of the salient lies on the faces."""
MOST_TOLD = 20


def main() -> None:
    count = int(sys.argv[1]) if len(sys.argv) > 1 else PARTS
    chance = random.Random(SEED)
    whole = read_labels()
    pictures = [*whole, *take_parts(count, SEED)]
    blocks = [[one] for one in pictures]
    blocks += [chance.sample(pictures, chance.randint(2, MOST_IN_A_GROUP)) for _ in pictures]
    laid: Counter[str] = Counter()
    wrongs: list[str] = []
    for block in blocks:
        for trim in TRIMS:
            numbers = chance.choice(PAGES)
            photos = [
                make_photo(one, look_by_labels(one, chance.choice(TO_FACES))) for one in block
            ]
            faces = {photo.id: one.faces for photo, one in zip(photos, block, strict=True)}
            for spread in lay_by_all(photos, trim, numbers):
                laid[spread.family] += 1
                wrongs += find_wrongs(spread.pages, trim, faces)
    print(
        f"{sum(len(one.faces) for one in whole)} faces in {len(whole)} pictures; {_tell(pictures)}"
    )
    for family, times in laid.most_common():
        print(f"{family:>16} {times:7}")
    print(f"{sum(laid.values())} laid, {len(wrongs)} wrong")
    print("\n".join(wrongs[:MOST_TOLD]))
    raise SystemExit(bool(wrongs))


def _tell(pictures: Sequence[Labelled]) -> str:
    return f"{sum(len(p.faces) for p in pictures)} faces in {len(pictures)} pictures"


if __name__ == "__main__":
    main()
