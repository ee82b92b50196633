"""The one place where errors become HTTP: always {code, message, hint}."""

import logging
from http import HTTPStatus
from typing import Any

from fastapi import FastAPI, Request
from fastapi.exceptions import RequestValidationError
from fastapi.responses import JSONResponse
from starlette.exceptions import HTTPException

from skinpin.domain.errors import Refused
from skinpin.services.full_disk import full_disk

STATUS = {
    "wrong_shape": 422,
    "weak_passcode": 422,
    "bad_definition": 422,
    "wrong_sha256": 422,
    "unreadable_picture": 422,
    "too_many_pixels": 422,
    "no_card": 422,
    "two_cards": 422,
    "no_such_card": 422,
    "cut_short": 400,
    "not_signed_in": 401,
    "not_enrolled": 401,
    "device_ended": 401,
    "no_role": 403,
    "wrong_passcode": 401,
    "wrong_code": 401,
    "not_allowed": 403,
    "wrong_origin": 403,
    "wrong_host": 421,
    "no_such_address": 404,
    "no_such_photograph": 404,
    "no_such_person": 404,
    "no_such_device": 404,
    "no_such_defect": 404,
    "no_such_zone": 404,
    "no_such_report": 404,
    "no_such_export": 404,
    "no_such_file": 404,
    "no_such_airframe": 404,
    "airframe_exists": 409,
    "no_standard": 404,
    "not_a_standard": 422,
    "standard_exists": 409,
    "not_a_bag": 422,
    "wrong_signature": 422,
    "lost_tablet": 409,
    "too_many_reports": 409,
    "cancelled": 409,
    "not_a_number": 422,
    "no_definition": 409,
    "last_lead": 409,
    "not_open": 409,
    "no_reason": 422,
    "which_airframe": 422,
    "wrong_method": 405,
    "no_book": 409,
    "book_exists": 409,
    "another_book": 409,
    "too_large": 413,
    "wait": 429,
    "no_backup": 404,
    "file_there": 409,
    "backup_under_way": 409,
    "backup_damaged": 500,
    "report_failed": 500,
    "fault": 500,
    "disk_full": 507,
    "store_away": 503,
    "not_written": 500,
    "not_a_date": 422,
    "no_scale": 422,
    "scale_withdrawn": 422,
    "far_from_scale": 422,
    "wider_than_measured": 422,
    "depth_from_photograph": 422,
    "no_such_shape": 422,
    "too_few_points": 422,
    "collinear_points": 422,
    "crossed_points": 422,
    "beyond_horizon": 422,
    "no_such_method": 422,
    "no_such_page": 422,
    "too_many_pages": 422,
}
FRAMEWORK = {
    404: ("no_such_address", "There is nothing at {path}.", "Look at /openapi.json."),
    405: ("wrong_method", "{path} does not answer {method}.", "Look at /openapi.json."),
    413: ("too_large", "The body is larger than {path} takes.", "Send less at once."),
}
log = logging.getLogger("skinpin")


def shape(code: str, message: str, hint: str) -> dict[str, str]:
    """Return the one shape of every error."""
    return {"code": code, "message": message, "hint": hint}


def answer(code: str, message: str, hint: str, status: int | None = None) -> JSONResponse:
    """Return an error as a response; a code without a status of its own means bad input."""
    return JSONResponse(shape(code, message, hint), status or STATUS.get(code, 422))


def install(app: FastAPI) -> None:
    """Make every error of an app come out in the one shape."""
    app.add_exception_handler(Refused, _refused)
    app.add_exception_handler(HTTPException, _framework)
    app.add_exception_handler(RequestValidationError, _wrong_shape)


def _refused(request: Request, error: Exception) -> JSONResponse:
    assert isinstance(error, Refused)
    return _refused_as(error)


def _refused_as(refused: Refused) -> JSONResponse:
    return answer(refused.code, refused.message, refused.hint)


def _framework(request: Request, error: Exception) -> JSONResponse:
    assert isinstance(error, HTTPException)
    told = FRAMEWORK.get(error.status_code)
    if told is None:
        phrase = HTTPStatus(error.status_code).phrase
        return answer("wrong_shape", f"{phrase}: {error.detail}.", "", error.status_code)
    code, message, hint = told
    words = {"path": request.url.path, "method": request.method}
    return answer(code, message.format(**words), hint, error.status_code)


def _wrong_shape(request: Request, error: Exception) -> JSONResponse:
    assert isinstance(error, RequestValidationError)
    first: dict[str, Any] = error.errors()[0]
    where = ".".join(str(part) for part in first["loc"])
    return answer("wrong_shape", f"'{where}': {first['msg']}.", "Look at /openapi.json.")


def fault(asked: str, error: Exception) -> JSONResponse:
    """Return what is said of a fault: nothing of the server's inside, which goes to the log."""
    if refused := full_disk(error):
        return _refused_as(refused)
    log.error("%s failed", asked, exc_info=error)
    return answer("fault", "The server failed to answer; nothing was changed.", "Try again.")
