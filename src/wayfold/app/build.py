"""Building the print files: all stages, then what of pictures, pages and sheets is not kept."""

from __future__ import annotations

import os
from collections.abc import Mapping, Sequence
from dataclasses import replace
from pathlib import Path

from wayfold.app.bench_papers import PaperPictures, begin_bench_papers, set_bench_papers
from wayfold.app.beside import WORTH_TWO_PROCESSES, Beside
from wayfold.app.book_files import begin_book_files
from wayfold.app.copies import find_unchosen
from wayfold.app.drawing_keys import DrawingKeys
from wayfold.app.fonts import open_typesetter
from wayfold.app.identity import code_key, library_key, list_key
from wayfold.app.ledger import compare_with_printed
from wayfold.app.made import (
    Made,
    MakeReport,
    inputs_key,
    list_outputs,
    output_files,
    read_inputs,
    write_made,
)
from wayfold.app.painting import PaintJob, paint_washes, wash_key
from wayfold.app.plan_drawing import describe_plan_drawing, set_gatherings
from wayfold.app.print_aids import write_print_aids
from wayfold.app.reports import (
    write_checks_report,
    write_itinerary_files,
    write_plan_report,
)
from wayfold.app.seen import show_through
from wayfold.app.setting import set_leaves, set_marks, set_pages
from wayfold.app.stages import Results, run_stages
from wayfold.app.towns import KeptTowns
from wayfold.base.errors import UserError
from wayfold.base.findings import Finding
from wayfold.base.hashing import hash_values, plain
from wayfold.base.memory import Memory
from wayfold.base.mends import Mend
from wayfold.base.progress import Progress
from wayfold.base.revive import revive
from wayfold.checks.rules import check_book
from wayfold.checks.subject import Subject
from wayfold.disk.refusals import explain_os_errors
from wayfold.drawing.items import Drawing, Picture
from wayfold.drawing.pictures import list_pictures, picture_key
from wayfold.photos.derive import DerivativeJob, make_derivatives
from wayfold.press.impose import write_sheets
from wayfold.press.ledger import SheetInk, trace_sheets
from wayfold.project.cache import DiskCache
from wayfold.project.files import BookFolder
from wayfold.project.journal_placing import sweep
from wayfold.project.ledger_file import read_ledger
from wayfold.project.store import load_book
from wayfold.trip.town_names import NameFinder
from wayfold.typeset.assemble import DocumentInfo, assemble_pdf

PRINT_PPI = 300.0
PICTURES, MINIATURES = "pictures", "miniatures"
"""Where in the cache print pictures lie, and small ones."""


def build_book(
    folder: BookFolder,
    before: Made,
    beside: Beside,
    progress: Progress,
    memory: Memory | None = None,
) -> MakeReport:
    """Make the print files, the large ones ``beside``.

    ``before`` is the last make, which the sheets are compared with. What is in ``memory`` is not
    worked out again.

    Raises UserError where the person has to mend something first; files made earlier then stay
    as they were.
    """
    sweep(folder)
    typesetter = open_typesetter(folder, memory)
    given = read_inputs(folder)
    results = run_stages(folder, typesetter, progress, memory)
    # Not at the end: what a person changes while the files are made is for the next make.
    inputs, content = _identify_inputs(folder, given, results)
    pictures, miniatures, made_pictures = make_pictures(folder, results, progress)
    # Nobody knew how long a first make is; while pictures are made it would only be in the way.
    beside.start(worth=len(results.drawings) >= WORTH_TWO_PROCESSES)
    known = DrawingKeys()
    proofs = set_pages(folder, results.drawings, typesetter, progress, known=known)
    veiled = set_leaves(folder, results, typesetter, progress, known)
    seen = show_through(folder, veiled.veiled, pictures, typesetter, progress)
    marks = set_marks(folder, results.sheets, typesetter, progress)
    outputs = output_files(folder)
    reading, sheets, leaves, interleaves, drawn, plan, checks, rows, events, *_ = outputs
    with explain_os_errors(folder.out):
        folder.out.mkdir(parents=True, exist_ok=True)
    finish_book = begin_book_files(
        results, proofs.files, veiled, pictures, seen, marks, reading, sheets, beside
    )
    leaf_marks = set_marks(folder, results.interleaf_sheets, typesetter, progress)
    gatherings = set_gatherings(folder, results, typesetter, progress, known)
    plan_drawing = describe_plan_drawing(results.book)
    planned = beside.begin(assemble_pdf, gatherings, miniatures, drawn, plan_drawing)
    shown = PaperPictures(pictures, miniatures)
    papers = set_bench_papers(folder, results, shown, typesetter, progress, known)
    finish_papers = begin_bench_papers(folder, papers, results, beside)
    found = (*proofs.findings, *veiled.findings, *papers.findings)
    findings = (*find_unchosen(folder), *judge_results(folder, results, found))
    contents = {photo.id: photo.content for photo in results.catalogue.photos}
    traced = trace_sheets(results.sheets, results.drawings, contents)
    with progress.task("Writing the files", len(outputs)) as task, explain_os_errors(folder.out):
        if results.leaves:
            book = results.book
            info = DocumentInfo(book.title, book.author, book.language)
            assemble_pdf(veiled.leaves, {}, leaves, info)
            write_sheets(veiled.leaves, {}, leaf_marks, results.interleaf_sheets, interleaves)
        else:
            leaves.unlink(missing_ok=True)
            interleaves.unlink(missing_ok=True)
        task.advance(2)
        write_plan_report(plan, results)
        task.advance()
        write_checks_report(checks, findings)
        task.advance()
        write_itinerary_files(rows, events, results)
        task.advance(2)
        finish_book()
        planned.result()
        task.advance(2)
        finish_papers()
        task.advance(len(papers.pages))
        write_print_aids(folder, results, sheets, traced, pictures, typesetter, progress)
        task.advance()
    traced_leaves = trace_sheets(results.interleaf_sheets, veiled.faces, contents)
    made = Made(
        inputs,
        content,
        list_key(outputs),
        hash_values(code_key(), library_key()),
        len(results.drawings),
        plain(traced),
        plain(traced_leaves),
        results.book.photographs,
    )
    write_made(folder, made)
    return MakeReport(
        nothing_to_do=False,
        page_count=len(results.drawings),
        pages=proofs.new,
        pictures=made_pictures,
        sheets=_list_changed(before, made),
        outputs=list_outputs(folder),
        findings=findings,
        reprint=compare_with_printed(folder, results.book, made),
    )


def _identify_inputs(
    folder: BookFolder, given: Mapping[Path, bytes], results: Results
) -> tuple[str, str]:
    """Give the identity of what ``results`` were worked out of, with and without printed marks.

    Nothing where a person changed ``given`` while it was read: the next make looks at all again.
    The stages themselves note new photographs and a new plan, which change no decision.
    """
    now = read_inputs(folder)
    changed = {path for path in {*given, *now} if given.get(path) != now.get(path)}
    noted = {folder.photos_file, folder.plan_file}
    if changed - noted or (changed and load_book(folder).book != results.book):
        return "", ""
    photographs = results.book.photographs
    return inputs_key(folder, photographs), inputs_key(folder, photographs, marks=False)


def _list_changed(before: Made, after: Made) -> tuple[str, ...]:
    """Name the sheets whose ink differs from the last make's; all of them the first time."""
    known = [*before.sheets, *before.leaves] if before.code == after.code else []
    return tuple(
        revive(sheet, SheetInk).label
        for sheet in (*after.sheets, *after.leaves)
        if sheet not in known
    )


def judge_results(
    folder: BookFolder, results: Results, typeset: tuple[Finding, ...]
) -> tuple[Finding, ...]:
    """Give what was found on the way, in setting the type, and by the checks over it all."""
    towns = KeptTowns(DiskCache(folder.cache, "towns"))
    found = check_book(describe_subject(folder, results, typeset, towns))
    towns.keep()
    root = f"{folder.root}{os.sep}"
    return tuple(replace(f, where=f.where.removeprefix(root)) for f in found)


def describe_subject(
    folder: BookFolder, results: Results, typeset: tuple[Finding, ...], towns: NameFinder
) -> Subject:
    """Give all that the checks look at; ``typeset`` was found in setting the type."""
    printed = tuple(sheet.ink for sheet in read_ledger(folder.ledger_file).values())
    contents = {photo.id: photo.content for photo in results.catalogue.photos}
    # Without a sheet that lies printed there is nothing to compare.
    inks = trace_sheets(results.sheets if printed else (), results.drawings, contents)
    return Subject(
        book=results.book,
        photos=results.photos,
        missing=results.catalogue.missing,
        story=results.story,
        plan=results.plan,
        words=results.words,
        layout=results.layout,
        sheets=results.sheets,
        journey=results.journey,
        sets=results.sets,
        drawings=results.drawings,
        towns=towns,
        earlier=(*results.findings, *typeset),
        washes=results.washes,
        printed=printed,
        inks=inks,
    )


def collect_pictures(drawings: Sequence[Drawing]) -> dict[str, Picture]:
    """Give every picture the drawings need, by its key."""
    return {picture_key(p): p for drawing in drawings for p in list_pictures(drawing)}


def name_picture(results: Results, picture: Picture) -> str:
    """Give the name under which the cache keeps a picture as it is printed, and its miniature."""
    wash = results.painted.get(picture.asset)
    if wash is not None:
        return wash_key(wash)
    code = hash_values(code_key("photos"), library_key(), PRINT_PPI)
    return hash_values(picture_key(picture), results.photos[picture.asset].content, code)


def find_miniatures(folder: BookFolder, results: Results) -> dict[str, Path] | None:
    """Give the miniatures of the pages' pictures by their keys; None where any is not made yet."""
    small = DiskCache(folder.cache, MINIATURES, ".jpg")
    found = {}
    for key, picture in collect_pictures(results.drawings).items():
        kept = name_picture(results, picture)
        if not small.has(kept):
            return None
        found[key] = small.path(kept)
    return found


def make_pictures(
    folder: BookFolder, results: Results, progress: Progress
) -> tuple[dict[str, Path], dict[str, Path], int]:
    """Make the print pictures that are not there yet, and a miniature of each.

    Gives the file of each picture key, that of its miniature, and how many were made. Raises
    UserError naming the photographs that could not be read.
    """
    cache = DiskCache(folder.cache, PICTURES, ".jpg")
    small = DiskCache(folder.cache, MINIATURES, ".jpg")
    files, miniatures = {}, {}
    jobs: list[DerivativeJob] = []
    paint_jobs: list[PaintJob] = []
    cover = tuple(piece.drawing for piece in results.case.printed.pieces)
    for key, picture in collect_pictures((*results.drawings, *cover)).items():
        wash, kept = results.painted.get(picture.asset), name_picture(results, picture)
        files[key], miniatures[key] = cache.path(kept), small.path(kept)
        if cache.has(kept) and small.has(kept):
            continue
        if wash is not None:
            paint_jobs.append(PaintJob(wash, files[key], miniatures[key]))
            continue
        size = picture.box.size
        jobs.append(
            DerivativeJob(
                results.photos[picture.asset],
                picture.crop,
                size.width,
                size.height,
                PRINT_PPI,
                files[key],
                miniatures[key],
            )
        )
    if paint_jobs:
        paint_washes(paint_jobs, progress)
    if jobs:
        failed = make_derivatives(jobs, progress)
        if failed:
            raise UserError(
                "Some photographs cannot be read any more:"
                + "".join(f"\n  {f.where}: {f.message}" for f in failed),
                remedy=f"Put the files back, or leave them out: {Mend.PICK}.",
            )
    return files, miniatures, len(jobs) + len(paint_jobs)
