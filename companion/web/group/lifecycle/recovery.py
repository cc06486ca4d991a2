"""A code on paper: a leader who has lost her link gets another one with it, without anybody's help."""

from __future__ import annotations

import base64
import secrets

from flask import Blueprint, abort, render_template, request
from flask.typing import ResponseReturnValue

from ...links import new_link
from ...open_pair import store
from ...server import quotas
from ...what_was_done import redirect_saying
from ..open_design import own_design

CODE_BYTES = 10
"""80 random bits, which nobody guesses at a hundred tries an hour: 16 letters of base32 (RFC 4648, section 6)."""

GROUP = 4
"""Letters that are written together (ours)."""

bp = Blueprint("recovery", __name__)


@bp.post("/design/<link>/recovery")
def make(link: str) -> ResponseReturnValue:
    """Show a code, this once, that gives the first leader another link should she lose hers."""
    led = own_design(link)
    quotas.take(quotas.DESIGNS)
    code = base64.b32encode(secrets.token_bytes(CODE_BYTES)).decode()
    store().design_links.keep_recovery(led.version.design, code, led.join_link)
    groups = [code[start : start + GROUP] for start in range(0, len(code), GROUP)]
    return render_template("group/recovery_code.html", design=led.design, link=link, code=" ".join(groups))


@bp.post("/design/recover")
def recover() -> ResponseReturnValue:
    """Give whoever has a recovery code a new leader's link; the code is used up by it."""
    quotas.take(quotas.DESIGNS)
    link = new_link()
    if not store().design_links.recover_by_code(_written(request.form.get("code", "")), link):
        abort(404, NO_SUCH_CODE)
    return redirect_saying("designs.lead", "design-recovered", link=link)


NO_SUCH_CODE = (
    "No design has this code. A code has 16 letters and digits, opens a design once, and a newer one takes its place."
)


def _written(text: str) -> str:
    """A code as it was made, from how it was typed: in groups or not, in small letters, with a nought for an O."""
    return "".join(filter(str.isalnum, text.upper())).translate({ord("0"): "O", ord("8"): "B"})
