"""What every answer carries, and what becomes of requests that are refused."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from http import HTTPStatus
from typing import TypeAlias

from flask import Flask, Response, current_app, jsonify, render_template, request
from flask.sessions import SecureCookieSession, SecureCookieSessionInterface
from flask.typing import ResponseReturnValue
from flask_wtf.csrf import CSRFError, CSRFProtect  # type: ignore[import-untyped]
from werkzeug.exceptions import Conflict, HTTPException, ServiceUnavailable, default_exceptions

from ..photo import MOST_BYTES
from ..store import DamagedPairError, StoreError

KILOBYTE = 1024
USUAL_BODY = 64 * KILOBYTE
"""A plan form with every field filled to its limit takes a few kilobytes."""
BODY_LIMITS = {
    "sync.log": 256 * KILOBYTE,
    "photos.keep": MOST_BYTES + 8 * KILOBYTE,
    "pair_files.import_pair": 32 * KILOBYTE * KILOBYTE,
}

YEAR = 365 * 24 * 3600
"""Seconds. Weeks may pass between two sessions of knitting, and a form must still be accepted then."""

CONTENT_SECURITY_POLICY = "; ".join(
    [
        "default-src 'none'",
        "script-src 'self'",
        "style-src 'self'",
        "img-src 'self' blob:",  # photos that are kept in the browser
        "connect-src 'self'",
        "manifest-src 'self'",
        "worker-src 'self'",
        "form-action 'self'",
        "base-uri 'none'",
        "frame-ancestors 'none'",
    ]
)

HEADERS = {
    "Content-Security-Policy": CONTENT_SECURITY_POLICY,
    # The address of a pair opens it, so it must reach no other site.
    "Referrer-Policy": "no-referrer",
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "DENY",
    "X-Robots-Tag": "noindex, nofollow",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Permissions-Policy": "camera=(), geolocation=(), microphone=()",
}

EMBEDDABLE = {"joining.grid"}
"""What other sites may show in a frame: a page without a cookie, a form or a link of anybody's own."""
EMBEDDABLE_HEADERS = {
    "Content-Security-Policy": CONTENT_SECURITY_POLICY.replace("frame-ancestors 'none'", "frame-ancestors *"),
    "Cross-Origin-Resource-Policy": "cross-origin",
}

Words: TypeAlias = tuple[str, str, str]

WORDS: dict[int, Words] = {
    400: ("bad-request", "That could not be understood", "Go back, check what was filled in, and send it again."),
    404: ("not-found", "There is nothing here", "Check that the link is complete: one missing letter opens nothing."),
    405: ("not-allowed", "That does not work here", "Open this page from a link instead."),
    409: ("conflict", "That does not fit any more", "Open the pair again and look at where it is now."),
    413: ("too-large", "That is too much at once", "Send less at a time."),
    500: (
        "failed",
        "Something went wrong here",
        "The fault is ours. Nothing that was counted is lost; try again in a moment.",
    ),
    503: (
        "unavailable",
        "The kept data cannot be reached",
        "The disk may be full or busy. Counts stay on the phone; try again in a moment.",
    ),
}  # fmt: skip
"""For each status: the code for programs, a heading, and what to do."""

STALE_FORM = "This page was open for too long, or cookies are off. Nothing is lost: open it anew and send it again."

csrf = CSRFProtect()


def words_of(error: HTTPException) -> tuple[int, Words]:
    """The status of a refusal with its words; a sentence of our own in the exception takes the place of ours."""
    status = error.code or 500
    code, title, message = WORDS.get(status, WORDS[400 if status < 500 else 500])
    if isinstance(error, CSRFError):
        return status, ("csrf", "Please send that again", STALE_FORM)
    stock = default_exceptions.get(status)
    if error.description and (stock is None or error.description != stock.description):
        message = error.description
    return status, (code, title, message)


def error_page(error: HTTPException) -> ResponseReturnValue:
    """A refusal for people."""
    if error.response is not None or (error.code or 500) < 400:
        return error.get_response()  # a redirect
    status, (_, title, message) = words_of(error)
    return render_template("message.html", title=title, message=message, status=status), status


def _refused(error: HTTPException) -> ResponseReturnValue:
    """A refusal: for programs from the endpoints of the knit page, for people from all others."""
    if request.blueprint != "sync":
        return error_page(error)
    status, (code, _, message) = words_of(error)
    return jsonify(error=code, message=message), status


def _limit_body() -> None:
    request.max_content_length = BODY_LIMITS.get(request.endpoint or "", USUAL_BODY)


def _add_headers(response: Response) -> Response:
    response.headers.update(HEADERS)
    if request.endpoint in EMBEDDABLE and response.status_code == HTTPStatus.OK:
        response.headers.update(EMBEDDABLE_HEADERS)
        del response.headers["X-Frame-Options"]
    response.headers.setdefault("Cache-Control", "private, no-cache")
    return response


Handler: TypeAlias = Callable[[CSRFError], ResponseReturnValue]


def shown_again(handler: Handler) -> Handler:
    """A handler that shows a stale form again. Flask fails where a handler refuses; here that is answered as usual."""

    @wraps(handler)
    def answer(error: CSRFError) -> ResponseReturnValue:
        try:
            return handler(error)
        except (HTTPException, StoreError) as refusal:
            return current_app.handle_user_exception(refusal)

    return answer


def _damaged(error: DamagedPairError) -> ResponseReturnValue:
    return _refused(Conflict(str(error)))


def _unavailable(error: StoreError) -> ResponseReturnValue:
    current_app.logger.error("Failed while answering %s: %s", request.endpoint, error)
    return _refused(ServiceUnavailable())


class _LastingSession(SecureCookieSession):
    """A session that outlives the browser's window."""

    permanent = True


class _Sessions(SecureCookieSessionInterface):
    session_class = _LastingSession


class QuietFlask(Flask):
    """Flask whose error log names the endpoint only: a path would give a pair's link away."""

    session_interface = _Sessions()

    def log_exception(self, exc_info: object) -> None:
        """Log a failure with its traceback."""
        self.logger.error("Failed while answering %s", request.endpoint, exc_info=exc_info)  # type: ignore[arg-type]


def init_app(app: Flask) -> None:
    """Cookies, tokens, headers, limits and error pages."""
    public_url: str = app.config["PUBLIC_URL"] or ""
    app.config.update(
        SESSION_COOKIE_NAME="tapeline",
        SESSION_COOKIE_HTTPONLY=True,
        SESSION_COOKIE_SAMESITE="Lax",
        SESSION_COOKIE_SECURE=public_url.startswith("https://"),
        PERMANENT_SESSION_LIFETIME=YEAR,
        SESSION_REFRESH_EACH_REQUEST=False,
        WTF_CSRF_TIME_LIMIT=None,
        # The check wants a Referer, which our own Referrer-Policy keeps back.
        WTF_CSRF_SSL_STRICT=False,
    )
    app.before_request(_limit_body)
    csrf.init_app(app)
    app.after_request(_add_headers)
    app.register_error_handler(HTTPException, _refused)
    app.register_error_handler(DamagedPairError, _damaged)
    app.register_error_handler(StoreError, _unavailable)
