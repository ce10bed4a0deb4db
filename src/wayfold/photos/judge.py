"""What to tell of files that are left out."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from pathlib import PurePosixPath

from wayfold.base.findings import Finding, Severity
from wayfold.photos.refusals import Refusal
from wayfold.photos.scan import Scan

_RAW_RULE = "photos.raw-extra"
_NAMED = 3


def judge_unread(refused: Mapping[str, Refusal]) -> list[Finding]:
    """Give one finding a file; raws that want the optional reader share one."""
    raws = sorted(path for path, refusal in refused.items() if refusal.rule == _RAW_RULE)
    findings = [
        Finding(refusal.rule, Severity.WARN, path, refusal.message, refusal.remedy)
        for path, refusal in refused.items()
        if refusal.rule != _RAW_RULE
    ]
    if raws:
        refusal = refused[raws[0]]
        count = "" if len(raws) == 1 else f"{len(raws)} files ({_name_some(raws)}). "
        findings.append(
            Finding(_RAW_RULE, Severity.WARN, raws[0], count + refusal.message, refusal.remedy)
        )
    return findings


def judge_scan(scan: Scan) -> list[Finding]:
    """Give one finding for pictures of other kinds, and one note for all that is no picture."""
    findings = []
    if pictures := sorted(scan.unread_pictures):
        findings.append(
            Finding(
                "photos.other-kind",
                Severity.WARN,
                pictures[0],
                f"Pictures of kinds that Wayfold does not read: {_count_endings(pictures)} "
                f"({_name_some(pictures)}).",
                "Save those you want in the book as JPEG, PNG or TIFF.",
            )
        )
    if others := sorted(scan.others):
        findings.append(
            Finding(
                "photos.others",
                Severity.NOTE,
                others[0],
                f"Files that are no photographs were passed over: {_count_endings(others)}.",
            )
        )
    return findings


def _count_endings(paths: Sequence[str]) -> str:
    endings = Counter(PurePosixPath(p).suffix[1:].lower() or "without ending" for p in paths)
    return ", ".join(f"{count} {ending}" for ending, count in sorted(endings.items()))


def _name_some(paths: Sequence[str]) -> str:
    names = [PurePosixPath(p).name for p in paths[:_NAMED]]
    return ", ".join(names) + (" …" if len(paths) > _NAMED else "")
