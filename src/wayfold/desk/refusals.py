"""Which HTTP status an error gets: the one place that knows."""

from __future__ import annotations

from fastapi import FastAPI, Request
from fastapi.exceptions import RequestValidationError
from fastapi.responses import JSONResponse
from starlette.exceptions import HTTPException

from wayfold.base.errors import (
    CancelledError,
    ConflictError,
    NotFoundError,
    RewrittenError,
    UserError,
)
from wayfold.desk.wire import Problem, Rewritten
from wayfold.disk.refusals import explain_refusal

NOT_FOUND = 404
CONFLICT = 409
UNPROCESSABLE = 422


def find_status(error: UserError) -> int:
    """404 for what is not there, 409 for what has changed meanwhile, 422 for the rest."""
    if isinstance(error, NotFoundError):
        return NOT_FOUND
    if isinstance(error, ConflictError | CancelledError):
        return CONFLICT
    return UNPROCESSABLE


def install_refusals(app: FastAPI) -> None:
    """Make every refusal of ``app`` a ``Problem``; bugs stay bugs and show their traceback."""

    @app.exception_handler(UserError)
    def refuse(_request: Request, error: UserError) -> JSONResponse:
        told = Rewritten if isinstance(error, RewrittenError) else Problem
        return JSONResponse(told.of(error).model_dump(), find_status(error))

    @app.exception_handler(OSError)
    def refuse_disk(_request: Request, error: OSError) -> JSONResponse:
        told = explain_refusal(error, str(error.filename or ""))
        if told is None:
            raise error
        return JSONResponse(Problem.of(told).model_dump(), find_status(told))

    @app.exception_handler(HTTPException)
    def refuse_route(request: Request, error: HTTPException) -> JSONResponse:
        problem = Problem(what=str(error.detail), where=request.url.path)
        return JSONResponse(problem.model_dump(), error.status_code, headers=error.headers)

    @app.exception_handler(RequestValidationError)
    def refuse_input(request: Request, error: RequestValidationError) -> JSONResponse:
        first = error.errors()[0]
        names = [str(part) for part in first["loc"] if part not in ("path", "query", "body")]
        problem = Problem(
            what=f"{'.'.join(names) or 'The request'}: {first['msg']}", where=request.url.path
        )
        return JSONResponse(problem.model_dump(), UNPROCESSABLE)
