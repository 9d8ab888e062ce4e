"""One shape for every error the page is told: problem, where, cure."""

from __future__ import annotations

import logging
from typing import Any

from fastapi import FastAPI, Request
from fastapi.exceptions import RequestValidationError
from fastapi.responses import JSONResponse
from starlette.exceptions import HTTPException

from platewright.app.editing.difference import ChangedSinceError
from platewright.app.editing.edit import EditError
from platewright.foundation.errors import CannotPlan, InputErrors
from platewright.web.wire_format import fault_record


def told(status: int, problem: str, where: str, cure: str, **more: Any) -> JSONResponse:
    """Return an error answer."""
    return JSONResponse({"problem": problem, "where": where, "cure": cure, **more}, status)


def add_handlers(app: FastAPI) -> None:
    """Give every exception its answer. None carries a path or a trace."""

    @app.exception_handler(EditError)
    async def edit_error(_: Request, error: EditError) -> JSONResponse:
        return told(409, error.problem, error.where, error.cure)

    @app.exception_handler(ChangedSinceError)
    async def changed_since(_: Request, error: ChangedSinceError) -> JSONResponse:
        return told(409, str(error), "history", "Make the change by hand")

    @app.exception_handler(InputErrors)
    async def input_errors(_: Request, error: InputErrors) -> JSONResponse:
        faults = [fault_record(fault) for fault in error.faults]
        first = faults[0]
        return told(422, first["problem"], first["where"], first["cure"], faults=faults)

    @app.exception_handler(CannotPlan)
    async def cannot(_: Request, error: CannotPlan) -> JSONResponse:
        return told(409, error.problem, "plate", "; ".join(error.cures))

    @app.exception_handler(RequestValidationError)
    async def not_valid(_: Request, error: RequestValidationError) -> JSONResponse:
        first = error.errors()[0]
        place = ".".join(str(step) for step in first["loc"] if step != "body")
        return told(422, str(first["msg"]), place or "request", "Correct it and send it again")

    @app.exception_handler(HTTPException)
    async def http(_: Request, error: HTTPException) -> JSONResponse:
        cure = "Look at the address" if error.status_code == 404 else "Use the page itself"
        return told(error.status_code, str(error.detail).lower(), "request", cure)

    @app.exception_handler(Exception)
    async def ours(_: Request, error: Exception) -> JSONResponse:
        logging.getLogger("platewright").error("a fault of ours", exc_info=error)
        return told(500, "the program made a mistake", "server", "The terminal tells more")
