"""Paper and printer: routes below the room for the sheets."""

from __future__ import annotations

from collections.abc import Callable
from typing import Annotated, Literal

from fastapi import APIRouter, Path, Response
from pydantic import Field

from wayfold.app.rooms import sheets_printer as printing
from wayfold.app.session import Session
from wayfold.desk.reading import ASK_AGAIN, SVG, gives
from wayfold.desk.wire import Wire
from wayfold.desk.wording import Told

Turned = Literal["short-edge", "long-edge", "manual"]
Order = Literal["same", "reversed"]
Edge = Literal["short-edge", "long-edge"]


class EntryFact(Wire):
    """What is known of a paper or printer, and where a number comes from."""

    key: str
    value: str
    source: Literal["measured", "maker", "estimated"] | None


class Entry(Wire):
    """A paper or printer known by name."""

    name: str
    title: str
    facts: list[EntryFact]
    own: bool


class PrinterQuestion(Wire):
    """A question; ``default`` is what stands now, ``entries`` what there is to choose by name."""

    key: str
    words: Told
    kind: Literal["entry", "number", "size", "choice", "text"]
    default: str | None
    choices: list[str]
    help: Told
    entries: list[Entry]


class PrinterAnswers(Wire):
    """Answers by the questions' keys; doubtful ones are kept ``anyway`` only."""

    answers: Annotated[dict[str, Annotated[str, Field(max_length=200)]], Field(max_length=60)]
    anyway: bool = False


class AnswerDoubt(Wire):
    """What is doubtful about an answer; ``blocks`` keeps it from being kept."""

    where: Told
    message: Told
    remedy: Told
    blocks: bool


class AnswersKept(Wire):
    """Whether answers were kept, and what is doubtful about them."""

    kept: bool
    doubts: list[AnswerDoubt]


def add_routes(router: APIRouter, find_session: Callable[[], Session]) -> None:
    """Add the routes over the book that ``find_session`` gives, at each request anew."""

    @router.get("/printer")
    def get_questions() -> list[PrinterQuestion]:
        """The questions on papers and printer."""
        return [
            PrinterQuestion(
                key=asked.question.key,
                words=asked.question.words,
                kind=asked.question.kind,
                default=asked.question.default,
                choices=list(asked.question.choices),
                help=asked.question.help,
                entries=[Entry.mirror(e) for e in asked.entries],
            )
            for asked in printing.list_asked(find_session())
        ]

    @router.put("/printer")
    def answer(answers: PrinterAnswers) -> AnswersKept:
        """Keep answers, unless they are doubtful beyond doubt."""
        found = printing.answer(find_session(), answers.answers, anyway=answers.anyway)
        doubts = [
            AnswerDoubt(
                where=f.where, message=f.message, remedy=f.remedy, blocks=f.severity == "block"
            )
            for f in found.findings
        ]
        return AnswersKept(kept=found.kept, doubts=doubts)

    @router.post("/printer/measuring")
    def make_measuring_sheet() -> None:
        """Make the sheet that shows how leaves and grain are measured."""
        printing.make_sheet_to_measure(find_session())

    @router.get("/turning")
    def get_turning(
        duplex: Turned | None = None, order: Order | None = None, feed: Edge | None = None
    ) -> list[str]:
        """How the paper is laid and turned, step by step, as the book has it unless said here."""
        return [s.words for s in printing.list_turning(find_session(), duplex, order, feed)]

    @router.get("/turning/{number}.svg", response_class=Response, responses=gives(SVG))
    def get_turning_picture(
        number: Annotated[int, Path(ge=1, le=9)],
        duplex: Turned | None = None,
        order: Order | None = None,
        feed: Edge | None = None,
    ) -> Response:
        """The picture of one of these steps."""
        session = find_session()
        steps = printing.list_turning(session, duplex, order, feed)
        svg = printing.turning_svg(session, steps, number)
        return Response(svg, media_type=SVG, headers={"Cache-Control": ASK_AGAIN})
