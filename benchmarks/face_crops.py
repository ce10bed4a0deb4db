"""Lays many parts of pictures with faces in every way on pages of many shapes; counts harm.

    python -m benchmarks.face_crops [PARTS]

What the layout knows of a picture is what looking at it told; harm is judged by the boxes drawn by
hand (``tests/labelled_faces.toml``). A face that was not found is counted apart.
"""

from __future__ import annotations

import random
import sys
from collections import Counter

from tests.labelled_faces import fetch_pictures, read_labels, take_parts
from tests.layout.face_pages import (
    PAGES,
    TRIMS,
    are_one_face,
    find_wrongs,
    lay_by_all,
    look_for_real,
    make_photo,
)

PARTS, SEED = 300, 7
MOST_IN_A_GROUP = 4
ROUGHLY = 1.5
"""How far (mm) a face may seem nearer than it should where hand and finder draw it otherwise."""
MOST_TOLD = 20


def main() -> None:
    count = int(sys.argv[1]) if len(sys.argv) > 1 else PARTS
    chance = random.Random(SEED)
    files = fetch_pictures()
    pictures = [*read_labels(), *take_parts(count, SEED)]
    photos, seen = [], {}
    for picture in pictures:
        look = look_for_real(picture, files[picture.file])
        found = [face.box for face in look.faces]
        photos.append(make_photo(picture, look))
        seen[picture.name] = [f for f in picture.faces if any(are_one_face(f, b) for b in found)]
    faces, known = sum(len(p.faces) for p in pictures), sum(len(s) for s in seen.values())
    print(f"{faces} faces in {len(pictures)} pictures and parts of them, {known} found")

    blocks = [[photo] for photo in photos]
    blocks += [chance.sample(photos, chance.randint(2, MOST_IN_A_GROUP)) for _ in photos[::3]]
    laid: Counter[str] = Counter()
    wrongs: list[str] = []
    for block in blocks:
        for trim in TRIMS:
            for spread in lay_by_all(block, trim, chance.choice(PAGES)):
                laid[spread.family] += 1
                wrongs += find_wrongs(spread.pages, trim, seen, ROUGHLY)
    for family, times in laid.most_common():
        print(f"{family:>16} {times:7}")
    print(f"{sum(laid.values())} laid, {len(wrongs)} wrong")
    print("\n".join(wrongs[:MOST_TOLD]))
    raise SystemExit(bool(wrongs))


if __name__ == "__main__":
    main()
