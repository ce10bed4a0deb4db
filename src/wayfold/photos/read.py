"""From folders to the catalogue: every photograph in them, read once, known by its content."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from concurrent.futures import Executor, ThreadPoolExecutor
from dataclasses import dataclass, field
from pathlib import Path

from wayfold.base.cache import Cache
from wayfold.base.hashing import hash_bytes
from wayfold.base.progress import Progress, Task
from wayfold.photos.catalogue import Catalogue, KnownFile
from wayfold.photos.crew import Crew, Lost
from wayfold.photos.facts import Facts, decode_outcome, encode_outcome
from wayfold.photos.identity import SeenFile, match_files
from wayfold.photos.judge import judge_scan, judge_unread
from wayfold.photos.kinds import Kind, kind_of_name
from wayfold.photos.read_file import hash_file, read_file
from wayfold.photos.record import make_photo
from wayfold.photos.refusals import Refusal, refuse_lost
from wayfold.photos.scan import FoundFile, Scan, scan_folders
from wayfold.photos.sidecars import find_sidecar

# Raise when reading gives other facts for the same bytes than before.
_READING_VERSION = 2
# A batch is hashed and then read while the system still holds its bytes in memory.
_BATCH = 64


@dataclass(slots=True)
class _Ledger:
    """What is known of the files so far."""

    content: dict[str, str] = field(default_factory=dict)  # path -> identity of its bytes
    outcome: dict[str, Facts | Refusal] = field(default_factory=dict)  # by identity
    refused: dict[str, Refusal] = field(default_factory=dict)  # path -> no bytes to be had


def read_photographs(
    folders: Sequence[Path],
    known: Mapping[str, KnownFile],
    cache: Cache,
    progress: Progress,
    crew: Crew,
) -> Catalogue:
    """Read all photographs in ``folders`` and the folders below.

    ``known`` is what the book remembers (id -> file), so that pictures keep their ids. Files that
    cannot be read become findings; the rest goes on. The result is the same for the same files
    whatever the order of work. Raises CancelledError when the person stops it.
    """
    with progress.task("Looking through the folders", 1) as task:
        scan = scan_folders(folders)
        task.advance()
    ledger = _read_all(scan, cache, progress, crew)

    facts = {
        path: outcome
        for path, content in ledger.content.items()
        if isinstance(outcome := ledger.outcome[content], Facts)
    }
    matching = match_files([SeenFile(p, ledger.content[p]) for p in facts], known)
    raw_stems = {_stem(p) for p in scan.pictures if kind_of_name(p) is Kind.RAW}
    photos, findings = [], []
    for picture in matching.pictures:
        sidecar = find_sidecar(picture.path, scan.sidecars, raw_stems)
        photo, said = make_photo(picture, facts[picture.path], sidecar)
        photos.append(photo)
        findings.extend(said)
    refused = ledger.refused | {
        path: outcome
        for path, content in ledger.content.items()
        if isinstance(outcome := ledger.outcome[content], Refusal)
    }
    findings += [*judge_unread(refused), *judge_scan(scan), *scan.findings]
    return Catalogue(
        photos=tuple(photos),
        findings=tuple(sorted(findings, key=lambda f: (f.where, f.rule, f.message))),
        copies={p.id: p.copies for p in matching.pictures if p.copies},
        missing=matching.missing,
    )


def _read_all(scan: Scan, cache: Cache, progress: Progress, crew: Crew) -> _Ledger:
    ledger = _Ledger()
    files = sorted(scan.pictures.values(), key=lambda f: f.path)
    # What only reads bytes cannot crash, so threads do it: starting processes takes time, and
    # hashing lets go of the interpreter.
    with (
        progress.task("Reading photographs", len(files)) as task,
        ThreadPoolExecutor(max(crew.workers, 1)) as hands,
    ):
        for start in range(0, len(files), _BATCH):
            batch = files[start : start + _BATCH]
            _hash_batch(batch, ledger, cache, hands, task)
            _read_batch(batch, ledger, cache, crew, task)
    return ledger


def _hash_batch(
    batch: Sequence[FoundFile], ledger: _Ledger, cache: Cache, hands: Executor, task: Task
) -> None:
    """Find each file's content; those that have none are done with."""
    unknown: list[FoundFile] = []
    for found in batch:
        kept = cache.get(content_key(found))
        if kept is None:
            unknown.append(found)
        else:
            ledger.content[found.path] = kept.decode()
    for found, result in zip(unknown, hands.map(hash_file, unknown), strict=True):
        if isinstance(result, str):
            ledger.content[found.path] = result
            cache.put(content_key(found), result.encode())
        else:
            ledger.refused[found.path] = result
            task.advance()


def _read_batch(
    batch: Sequence[FoundFile], ledger: _Ledger, cache: Cache, crew: Crew, task: Task
) -> None:
    """Find what each content tells: once a content, however many files have it."""
    unread: list[FoundFile] = []
    started: set[str] = set()
    for found in _with_content(batch, ledger):
        content = ledger.content[found.path]
        if content in ledger.outcome or content in started:
            task.advance()
            continue
        kept = decode_outcome(cache.get(_outcome_key(content, found)) or b"")
        if kept is None:
            started.add(content)
            unread.append(found)
        else:
            ledger.outcome[content] = kept
            task.advance()
    for outcome in crew.run(read_file, unread):
        result = refuse_lost() if isinstance(outcome.result, Lost) else outcome.result
        content = ledger.content[outcome.item.path]
        ledger.outcome[content] = result
        if isinstance(result, Facts) or result.lasting:
            cache.put(_outcome_key(content, outcome.item), encode_outcome(result))
        task.advance()


def _with_content(batch: Sequence[FoundFile], ledger: _Ledger) -> Iterator[FoundFile]:
    return (found for found in batch if found.path in ledger.content)


def content_key(found: FoundFile) -> str:
    """Give what a file's content is kept under while the file lies there unchanged."""
    return hash_bytes(f"photos.content {found.size} {found.mtime_ns} {found.path}".encode())


def _outcome_key(content: str, found: FoundFile) -> str:
    # Whether a TIFF is a raw hangs on its ending, so the ending's kind is part of the question.
    kind = kind_of_name(found.path)
    return hash_bytes(f"photos.facts {_READING_VERSION} {kind} {content}".encode())


def _stem(path: str) -> str:
    return path.rsplit(".", 1)[0].lower()
