"""Composes the demo's book: what its invented makers decided, ready for the app to write down."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

from wayfold.base.progress import Progress
from wayfold.book.state import ChapterChoice, PhotoChoice, Pick
from wayfold.demo.copies import PHOTOGRAPHS, Copies, write_copies
from wayfold.demo.gather import default_cache_folder, gather_photographs
from wayfold.demo.model import Chapter, Credit, DemoBook, Gathered, Shot
from wayfold.demo.scenario import read_text

_FRONT_AND_BACK = ("foreword", "closing")
_DAYS = ("2025-10-15",)
"""Days with a text of their own."""


def make_demo_book(
    target: Path, progress: Progress, *, cache: Path | None = None, paint_only: bool = False
) -> DemoBook:
    """Gather the pictures, write the copies below ``target`` and give the decisions on them.

    ``cache`` keeps what was fetched (the person's cache folder where None). Raises UserError
    where a folder cannot be written to.
    """
    folder = default_cache_folder() if cache is None else cache
    gathered = gather_photographs(folder, progress, paint_only=paint_only)
    copies = write_copies(target, gathered, progress)
    return compose_demo_book(gathered, copies)


def compose_demo_book(gathered: Gathered, copies: Copies) -> DemoBook:
    """Give the decisions for the pictures that could be had."""
    journey = gathered.journey
    shots = sorted((s for c in journey.chapters for s in c.shots), key=lambda s: s.taken)
    credited = {copies.paths[s.key]: s.credit for s in shots if s.kept}
    texts = {chapter.text: read_text(chapter.text) for chapter in journey.chapters}
    texts |= {key: read_text(key) for key in (*_FRONT_AND_BACK, *_DAYS)}
    texts |= {shot.text: read_text(shot.text) for shot in shots if shot.text}
    texts["colophon"] = read_text("colophon").format(
        about_pictures=_tell_about_pictures(gathered),
        credits=list_credits(credited),
        licences=_tell_licences(credited),
    )
    return DemoBook(
        title=journey.title,
        subtitle=journey.subtitle,
        author=journey.author,
        language=journey.language,
        photographs=PHOTOGRAPHS,
        chapters=tuple(_choose_chapter(c, copies) for c in journey.chapters),
        choices={copies.paths[s.key]: _choose(s) for s in shots},
        credits=credited,
        texts=texts,
        notices=tuple(_tell_notices(gathered, copies)),
    )


def _choose_chapter(chapter: Chapter, copies: Copies) -> ChapterChoice:
    """Open a chapter behind a translucent leaf where one of its pictures is fit to lie there."""
    opening = next((copies.paths[s.key] for s in chapter.shots if s.opens and s.kept), None)
    return ChapterChoice(
        place=chapter.towns[0].name,
        title=chapter.heading,
        subtitle=chapter.subtitle,
        text=chapter.text,
        accent=chapter.accent,
        interleaf=opening is not None,
        country_map=opening is not None and chapter.mapped,
        opening_photo=opening.rsplit("/", 1)[-1] if opening else None,
    )


def list_credits(credited: dict[str, Credit]) -> str:
    """Give one Markdown list item an author (and licence and package), naming every picture.

    Paintings of the demo's own share one title.
    """
    titles: dict[tuple[str, str, str], Counter[str]] = {}
    for credit in credited.values():
        source = (credit.author, credit.licence, credit.package)
        titles.setdefault(source, Counter())[credit.title] += 1
    lines = []
    for (author, licence, package), counts in titles.items():
        named = (f"*{t}* ({n} pictures)" if n > 1 else f"*{t}*" for t, n in counts.items())
        shared = f"{licence}, {package}" if package != "wayfold" else licence
        lines.append(f"- {author}: {', '.join(named)} ({shared})")
    return "\n".join(lines)


def _tell_licences(credited: dict[str, Credit]) -> str:
    """Say where the licences can be read that the credits name."""
    names = sorted({credit.licence for credit in credited.values()})
    commons = [name for name in names if name.startswith("CC")]
    software = [name for name in names if not name.startswith("CC")]
    parts = []
    if commons:
        parts.append(f"{', '.join(commons)}: creativecommons.org.")
    if software:
        parts.append(f"{', '.join(software)}: gnu.org/licenses.")
    return "The licences can be read here: " + " ".join(parts)


def _choose(shot: Shot) -> PhotoChoice:
    pick = Pick.HERO if shot.hero else Pick.TAKE
    return PhotoChoice(
        pick=pick if shot.kept else Pick.LEAVE,
        # A caption that the file itself carries needs no decision.
        caption=shot.caption if shot.caption_in == "none" else None,
        alone=shot.alone,
        crop=shot.shown,
        interleaf=shot.veiled,
        text=shot.text,
    )


def _tell_about_pictures(gathered: Gathered) -> str:
    total = sum(s.kept for c in gathered.journey.chapters for s in c.shots)
    painted = gathered.painted
    photographs = (
        "The photographs were taken by the people named below, who gave them under free licences; "
        "several were taken elsewhere than the story says. Dates, places and captions are ours, "
        "and some pictures are cropped. Each line names an author, the pictures, their licence and "
        "the Debian package they came in."
    )
    paintings = "painted by Wayfold itself, by arithmetic"
    if painted == 0:
        return photographs
    if painted >= total:
        return f"There are no photographs in this copy: all {total} pictures are {paintings}."
    return f"{photographs} {painted} of the {total} pictures are no photographs but {paintings}."


def _tell_notices(gathered: Gathered, copies: Copies) -> list[str]:
    notices = []
    for outcome in gathered.outcomes:
        if outcome.problem:
            notices.append(f"Package {outcome.package}: {outcome.problem}")
    if gathered.painted:
        notices.append(_tell_about_pictures(gathered))
    notices.extend(gathered.remarks)
    notices.extend(f"{name} has been changed since and stays as it is." for name in copies.kept)
    return notices
