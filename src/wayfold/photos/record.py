"""One picture's record, from its identity, its facts and its sidecar."""

from __future__ import annotations

from pathlib import PurePosixPath

from wayfold.base.findings import Finding, Severity
from wayfold.photos.facts import Facts
from wayfold.photos.identity import Identified
from wayfold.photos.kinds import kind_of_name
from wayfold.photos.metadata import add_sidecar
from wayfold.photos.model import Photo
from wayfold.photos.moments import parse_name_time
from wayfold.photos.xmp import XmpData


def make_photo(
    picture: Identified, facts: Facts, sidecar: XmpData | None
) -> tuple[Photo, list[Finding]]:
    """Give the record, and what the person should know about how it came about."""
    if sidecar is not None:
        facts = add_sidecar(facts, sidecar)
    path = picture.path
    name = PurePosixPath(path).name
    findings = [Finding(r.rule, Severity.NOTE, path, r.message, r.remedy) for r in facts.remarks]
    claimed = kind_of_name(name)
    if claimed is not None and claimed.value != facts.file_format:
        findings.append(
            Finding(
                "photos.mislabelled",
                Severity.NOTE,
                path,
                f"The name says {claimed}, the content is {facts.file_format}; it was read as "
                "what it is.",
                "Nothing need be done; rename it if other programs refuse it.",
            )
        )
    taken = facts.taken
    if taken is None and (taken := parse_name_time(name)) is not None:
        findings.append(
            Finding(
                "photos.time-from-name",
                Severity.NOTE,
                path,
                f"The picture holds no time; {taken.local:%Y-%m-%d %H:%M:%S} was taken from the "
                "file's name.",
                "Correct it in the book if it is wrong.",
            )
        )
    return (
        Photo(
            id=picture.id,
            content=picture.content,
            path=path,
            size=facts.size,
            orientation=facts.orientation,
            file_format=facts.file_format,
            taken=taken,
            place=facts.place,
            camera=facts.camera,
            profile=facts.profile,
            rating=facts.rating,
            caption=facts.caption,
            gps_utc=facts.gps_utc,
            credit=facts.credit,
        ),
        findings,
    )
