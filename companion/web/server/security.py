"""Headers of every answer, limits, and the pages of requests that are refused."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from http import HTTPStatus
from typing import TypeAlias
from urllib.parse import urlsplit

from flask import Flask, Response, abort, current_app, jsonify, render_template, request
from flask.sessions import SecureCookieSession, SecureCookieSessionInterface
from flask.typing import ResponseReturnValue
from flask_wtf.csrf import CSRFError, CSRFProtect  # type: ignore[import-untyped]
from werkzeug.exceptions import (
    Conflict,
    HTTPException,
    RequestEntityTooLarge,
    ServiceUnavailable,
    default_exceptions,
)

from ...group.jpeg import MOST_BYTES
from ...store import DamagedPairError, DamagedStoreError, FullPairError, StoreError, StoreReplacedError
from ...words import sentence
from .quotas import retry_after

KILOBYTE = 1024
USUAL_BODY = 64 * KILOBYTE
"""A plan form with every field filled to its limit takes a few kilobytes."""
EXPORTED_PAIR = 2 * KILOBYTE * KILOBYTE
DESIGN_FILE = 8 * KILOBYTE * KILOBYTE + USUAL_BODY
"""Six photos as large as they may be, in base64."""
BODY_LIMITS = {
    "sync.log": 256 * KILOBYTE,
    "photos.keep": MOST_BYTES + 8 * KILOBYTE,
    "design_files.take_in": DESIGN_FILE,
    "pair_files.import_pair": EXPORTED_PAIR,
    "sync.put_back": EXPORTED_PAIR,
    "sync.begin": EXPORTED_PAIR,
}
TOO_LARGE = {
    # A usual pair takes 0.1 MB, with its plan changed five times and 2,000 entries 0.6 MB. What is twice as long takes
    # twice the time to read, and others wait for it.
    "pair_files.import_pair": (
        "The file of a pair may have 2 MB, a logbook of some 9,000 entries. With JavaScript the first page "
        "sends longer ones in parts."
    ),
    "photos.keep": f"A photo may have {MOST_BYTES // KILOBYTE:,} kB. Make it smaller first.",
    "design_files.take_in": "The file of a design may have 8 MB. Save it with smaller photos.",
    "sync.put_back": "The plans of this pair take more than the 2 MB that the server takes of one.",
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

CALCULATES = "js/phone/planner.js"
"""The worker that calculates on a phone: it alone may compile WebAssembly (CSP 3, section 4.2.4)."""
CALCULATING_HEADERS = {
    "Content-Security-Policy": CONTENT_SECURITY_POLICY.replace(
        "script-src 'self'", "script-src 'self' 'wasm-unsafe-eval'"
    ),
}

Words: TypeAlias = tuple[str, str, str]

WORDS: dict[int, Words] = {
    400: ("bad-request", "That could not be understood", "Go back, check what was filled in, and send it again."),
    404: ("not-found", "There is nothing here", "Check that the link is complete: one missing letter opens nothing."),
    405: ("not-allowed", "That does not work here", "Open this page from a link instead."),
    409: ("conflict", "That does not fit any more", "Open the pair again and look at where it is now."),
    413: ("too-large", "That is too much at once", "Send less at a time."),
    429: ("too-many", "That was too many for now", "Wait a while, and try again."),
    500: (
        "failed",
        "Something went wrong here",
        "The fault is ours. Nothing that was counted is lost; try again in a moment.",
    ),
    503: (
        "unavailable",
        "The kept data cannot be reached",
        "The disk may be full, or the database is starting again. Counts stay on the phone; try again in a moment.",
    ),
}  # fmt: skip
"""For each status: the code for programs, a heading, and what to do."""

OUT_OF_ORDER: dict[type[StoreError], str] = {
    DamagedStoreError: "The data kept on this server is damaged.",
    StoreReplacedError: "The file with the data was moved away or overwritten while this server ran.",
}
"""What only the operator of the server can mend."""
RETRY_AFTER = 5
"""Seconds after which it may be worth while to ask again (RFC 9110, section 10.2.3): a database server starts again in
about as many."""
STAYS_ON_THE_PHONE = (
    "Counts stay on the phone and are sent once it is mended. Tell whoever runs the server: its log says what to do."
)
STALE_FORM = "This page was open for too long, or cookies are off. Nothing is lost: open it again, then send it again."
OPEN_TOO_LONG = "This page was open for too long. Nothing is lost: send it once more."
"""Over a form that comes back as it was filled in, with a fresh token."""

csrf = CSRFProtect()


def words_of(error: HTTPException) -> tuple[int, Words]:
    """The status of a refusal with its words; a sentence of our own in the exception takes the place of ours."""
    status = error.code or 500
    code, title, message = WORDS.get(status, WORDS[400 if status < 500 else 500])
    if isinstance(error, CSRFError):
        return status, ("csrf", "Please send that again", STALE_FORM)
    if status == HTTPStatus.REQUEST_ENTITY_TOO_LARGE:
        message = TOO_LARGE.get(request.endpoint or "", message)
    stock = default_exceptions.get(status)
    if error.description and (stock is None or error.description != stock.description):
        message = error.description
    return status, (code, title, message)


def error_page(error: HTTPException) -> ResponseReturnValue:
    """A refusal for people."""
    if error.response is not None or (error.code or 500) < 400:
        return error.get_response()  # a redirect
    status, (_, title, message) = words_of(error)
    page = render_template("lib/message.html", title=title, message=sentence(message))
    return page, status, retry_after(error)


def _refused(error: HTTPException) -> ResponseReturnValue:
    """A refusal: for programs from the endpoints of the knit page and to scripts, for people from all others."""
    if request.blueprint != "sync" and not request.is_json:
        return error_page(error)
    status, (code, _, message) = words_of(error)
    return jsonify(error=code, message=message), status, retry_after(error)


def _limit_body() -> None:
    request.max_content_length = BODY_LIMITS.get(request.endpoint or "", USUAL_BODY)


def _named_fields() -> None:
    """Refuse a form with a field that has no name, at which the check of the token fails. RFC 7578, section 4.2, wants
    a name for each."""
    if request.endpoint and not all(isinstance(name, str) for name in request.form):
        abort(400)


def _known_address() -> None:
    """Refuse requests for another server, and paths that begin with two slashes, which servers take for one."""
    if request.environ.get("REQUEST_URI", "").startswith("//"):
        abort(404)
    hosts: frozenset[str] | None = current_app.config["HOSTS"]
    given = request.headers.get("Host")
    if hosts is None or given is None:
        return
    try:
        known = urlsplit(f"//{given}").hostname in hosts
    except ValueError:
        known = False
    if not known:
        abort(400, f"This server is not known by that address. Open {current_app.config['PUBLIC_URL']} instead.")


def _add_headers(response: Response) -> Response:
    response.headers.update(HEADERS)
    if request.endpoint in EMBEDDABLE and response.status_code == HTTPStatus.OK:
        response.headers.update(EMBEDDABLE_HEADERS)
        del response.headers["X-Frame-Options"]
    if request.endpoint == "assets.static_file" and (request.view_args or {}).get("path") == CALCULATES:
        response.headers.update(CALCULATING_HEADERS)
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


def _full(error: FullPairError) -> ResponseReturnValue:
    return _refused(RequestEntityTooLarge(str(error)))


def _unavailable(error: StoreError) -> ResponseReturnValue:
    current_app.logger.error("Failed while answering %s: %s", request.endpoint, error)
    return _refused(ServiceUnavailable(retry_after=RETRY_AFTER))


def _out_of_order(error: StoreError) -> ResponseReturnValue:
    # Every phone that knocks would fill the log with the same words.
    said: set[str] = current_app.extensions.setdefault("out_of_order", set())
    if str(error) not in said:
        said.add(str(error))
        current_app.logger.error("%s", error)
    return _refused(ServiceUnavailable(f"{OUT_OF_ORDER[type(error)]} {STAYS_ON_THE_PHONE}"))


class _LastingSession(SecureCookieSession):
    """A session that outlives the browser's window."""

    permanent = True


class _Sessions(SecureCookieSessionInterface):
    """A cookie for https and one for plain http: a phone in the house may come by either, or by both.

    A browser sends a secure cookie by https alone, and takes no other of its name by http (RFC 6265bis, 5.7).
    """

    session_class = _LastingSession

    def get_cookie_name(self, app: Flask) -> str:
        """The name; the prefix has a browser keep it to this host (RFC 6265bis, 4.1.3.2)."""
        name = super().get_cookie_name(app)
        return f"__Host-{name}" if request.is_secure else name

    def get_cookie_secure(self, app: Flask) -> bool:
        """Secure where the request came by https."""
        return super().get_cookie_secure(app) or request.is_secure


class QuietFlask(Flask):
    """Flask whose error log names the endpoint only: a path would give a pair's link away."""

    session_interface = _Sessions()

    def log_exception(self, exc_info: object) -> None:
        """Log a failure with its traceback."""
        self.logger.error("Failed while answering %s", request.endpoint, exc_info=exc_info)  # type: ignore[arg-type]


def init_app(app: Flask) -> None:
    """Cookies, tokens, headers, limits and error pages."""
    app.config.update(
        SESSION_COOKIE_NAME="tapeline",
        SESSION_COOKIE_HTTPONLY=True,
        SESSION_COOKIE_SAMESITE="Lax",
        PERMANENT_SESSION_LIFETIME=YEAR,
        SESSION_REFRESH_EACH_REQUEST=False,
        WTF_CSRF_TIME_LIMIT=None,
        # The check wants a Referer, which our own Referrer-Policy keeps back.
        WTF_CSRF_SSL_STRICT=False,
    )
    # A path with two slashes would be answered with the way to one with one, at whatever host the request names.
    app.url_map.merge_slashes = False
    app.before_request(_known_address)
    app.before_request(_limit_body)
    app.before_request(_named_fields)
    csrf.init_app(app)
    app.after_request(_add_headers)
    app.register_error_handler(HTTPException, _refused)
    app.register_error_handler(DamagedPairError, _damaged)
    for kind in OUT_OF_ORDER:
        app.register_error_handler(kind, _out_of_order)
    app.register_error_handler(FullPairError, _full)
    app.register_error_handler(StoreError, _unavailable)
