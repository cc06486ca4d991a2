"""How a phone comes to trust this computer, where it has an authority of its own for https in the house."""

from __future__ import annotations

from dataclasses import dataclass

from flask import Blueprint, Response, abort, current_app, render_template, request
from flask.typing import ResponseReturnValue

NONE = "This computer hands out no certificate. Ask whoever runs Tapeline to start it with --https."

bp = Blueprint("https_guide", __name__)


@dataclass(frozen=True)
class HouseAuthority:
    """What phones are asked to trust: the certificate (DER), and by what to know it."""

    certificate: bytes
    fingerprint: str
    by_number: str | None
    """The https address by number, for a phone that does not find the name."""


def _authority() -> HouseAuthority:
    found: HouseAuthority | None = current_app.config["AUTHORITY"]
    return found or abort(404, NONE)


@bp.get("/https")
def guide() -> ResponseReturnValue:
    """The steps to make a phone trust this computer, and the way on over https (`?then=/pair/…`)."""
    authority = _authority()
    then = request.args.get("then", "/")
    # Only a path: what begins with two slashes would be another computer.
    if not then.startswith("/") or then.startswith(("//", "/\\")):
        then = "/"
    secure: str = current_app.config["PUBLIC_URL"]
    return render_template("https.html", authority=authority, secure=secure, then=then)


@bp.get("/https/tapeline.crt")
def certificate() -> Response:
    """The certificate of the authority, as phones take it in."""
    answer = Response(_authority().certificate, mimetype="application/x-x509-ca-cert")
    answer.headers["Content-Disposition"] = 'inline; filename="tapeline.crt"'
    return answer
