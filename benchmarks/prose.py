"""What the checks of wording find in prose by others: ``python -m benchmarks.prose PLACES FILE…``.

``PLACES`` are names parted by semicolons, as a journey would know them. Each file is a text. Shown
are the counts, and every passage that is rare enough to be a false alarm, for eyes to judge.
"""

from __future__ import annotations

import re
import sys
from collections import Counter
from pathlib import Path

from wayfold.checks.place_names import KnownNames
from wayfold.checks.rules.pointing_words import find_pointers
from wayfold.checks.written_dates import find_dates

AROUND = 25
RARE = 12


def measure(places: list[str], files: list[Path]) -> tuple[int, dict[str, Counter[str]]]:
    known = KnownNames(places)
    texts = [" ".join(f.read_text("utf-8", errors="replace").split()) for f in files]
    small = {word for text in texts for word in text.split() if word.islower()}
    found: dict[str, Counter[str]] = {
        kind: Counter() for kind in ("forms of dates", "words that point", "spellings")
    }
    for text in texts:
        for date in find_dates(text, "en"):
            form = re.sub(r"\d", "9", date.text)
            found["forms of dates"][re.sub(r"[A-Z][a-z]{3,}", "Month", form)] += 1
        for word, _ in find_pointers(text, "en"):
            at = text.find(word)
            found["words that point"][text[max(0, at - AROUND) : at + AROUND]] += 1
        for spelling in known.list_spellings(text):
            right = known.find_lost_accents(spelling.text)
            plain = spelling.opens or spelling.text.lower() in small
            if right is None and not plain and all(w.lower() in small for w in spelling.beside):
                right = known.find_near_miss(spelling.text)
            if right:
                found["spellings"][f"{spelling.text} ({right})"] += 1
    return sum(len(text.split()) for text in texts), found


if __name__ == "__main__":
    words, counted = measure(sys.argv[1].split(";"), [Path(a) for a in sys.argv[2:]])
    print(f"{words:,} words")
    for what, counts in counted.items():
        print(f"{what}: {counts.total()}")
        for passage, count in counts.most_common(RARE):
            print(f"  {count:5}  {passage}")
