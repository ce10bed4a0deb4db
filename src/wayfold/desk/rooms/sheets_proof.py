"""Soft proofs: routes below the room for the sheets."""

from __future__ import annotations

from collections.abc import Callable
from typing import Annotated, Literal, Self

from fastapi import APIRouter, Depends, Path, Response

from wayfold.app.rooms import sheets_proof as proof
from wayfold.app.session import Session
from wayfold.desk.reading import ASK_AGAIN, gives
from wayfold.desk.rooms.sheets_register import PNG, read_file
from wayfold.desk.wire import Wire, WorkUnderWay
from wayfold.desk.wording import Told

PAGE = Path(ge=1, le=9999)


class ColourProfile(Wire):
    """A printer's profile, and whether it takes RGB or CMYK."""

    name: str
    space: str


class ProvenFinding(Wire):
    """What of a page will disappoint, and what to do."""

    message: Told
    remedy: Told


class ProvenPage(Wire):
    """What was measured of a page: shares (0-1) lost and heavy with ink, the largest difference."""

    page: int
    lost: float
    worst: float
    ink: float | None
    heavy: float | None
    findings: list[ProvenFinding]


class Proof(Wire):
    """The profile that pages are proven with, how many there are, and what was found."""

    profile: ColourProfile | None
    trouble: str | None
    pages: int
    names: list[str]
    proven: list[ProvenPage]

    @classmethod
    def of(cls, view: proof.ProofView) -> Self:
        """The wire form of ``view``."""
        profile = view.profile
        return cls(
            profile=None
            if profile is None
            else ColourProfile(name=profile.name, space=profile.space),
            trouble=view.trouble,
            pages=view.pages,
            names=list(view.names),
            proven=[
                ProvenPage(
                    page=page.page,
                    lost=page.lost,
                    worst=page.worst,
                    ink=page.ink,
                    heavy=page.heavy,
                    findings=[
                        ProvenFinding(message=f.message, remedy=f.remedy) for f in page.findings
                    ],
                )
                for page in view.proven
            ],
        )


def add_routes(router: APIRouter, find_session: Callable[[], Session]) -> None:
    """Add the routes over the book that ``find_session`` gives, at each request anew."""

    @router.get("/proof")
    def get_proof() -> Proof:
        """The profile, and what is proven with it."""
        return Proof.of(proof.view_proof(find_session()))

    @router.post("/proof/profile")
    def take_profile(profile: Annotated[bytes, Depends(read_file)]) -> Proof:
        """Prove with this ICC profile from now on."""
        return Proof.of(proof.take_profile(find_session(), profile))

    @router.delete("/proof/profile")
    def leave_profile() -> Proof:
        """Prove with none."""
        return Proof.of(proof.leave_profile(find_session()))

    @router.post("/proof/pages/{page}")
    def prove_page(page: Annotated[int, PAGE]) -> Proof:
        """Prove one page."""
        return Proof.of(proof.prove_page(find_session(), page))

    @router.post("/proof/pages")
    def prove_pages() -> WorkUnderWay:
        """Begin to prove all pages."""
        return WorkUnderWay.of(proof.start_proving(find_session()))

    @router.get("/proof/pages/{page}/{look}.png", response_class=Response, responses=gives(PNG))
    def get_page(page: Annotated[int, PAGE], look: Literal["screen", "paper", "lost"]) -> Response:
        """A page as the screen has it, as paper will, or with what is lost marked."""
        data = proof.page_png(find_session(), page, look)
        return Response(data, media_type=PNG, headers={"Cache-Control": ASK_AGAIN})
