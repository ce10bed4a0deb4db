"""Checking a book without making its print files, and mending what is safe to mend."""

from __future__ import annotations

from pathlib import Path

from wayfold.app.bench_papers import set_case
from wayfold.app.build import judge_results
from wayfold.app.copies import find_unchosen
from wayfold.app.fonts import open_typesetter
from wayfold.app.mending import mend
from wayfold.app.session import Session
from wayfold.app.setting import set_leaves, set_pages
from wayfold.app.stages import run_stages
from wayfold.base.findings import Finding, Rewording
from wayfold.base.progress import Progress
from wayfold.project.files import BookFolder


def check_folder(root: Path, progress: Progress) -> tuple[Finding, ...]:
    """Give everything that would disappoint on paper."""
    folder = BookFolder(root.resolve())
    typesetter = open_typesetter(folder)
    results = run_stages(folder, typesetter, progress)
    proofs = set_pages(folder, results.drawings, typesetter, progress)
    veiled = set_leaves(folder, results, typesetter, progress)
    cover = set_case(folder, results, typesetter, progress)
    found = (*proofs.findings, *veiled.findings, *cover.findings)
    return (*find_unchosen(folder), *judge_results(folder, results, found))


def mend_folder(root: Path, progress: Progress) -> tuple[Rewording, ...]:
    """Mend what is safe to mend, as one change that can be undone, and give what was done."""
    session = Session.open(root, progress)
    try:
        with session.hold() as results:
            return mend(session, judge_results(session.folder, results, ()))
    finally:
        session.close()
