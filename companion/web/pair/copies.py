"""A copy of a pair to count from: one file that needs no server, with the knit page, its scripts and the pair."""

from __future__ import annotations

import base64
import hashlib
import json
import zlib
from dataclasses import dataclass
from typing import Any

from flask import Blueprint, Flask, Response, current_app, render_template

from ...group.stages import day_at
from ...planning.pattern.render import as_text
from ..downloads import to_save
from ..links import mark_of
from ..open_pair import open_pair, store
from ..server.assets import Assets
from .bundle import bundle, tight
from .kept_data import kept_data
from .patterns import wanted_of_pair

bp = Blueprint("copies", __name__)

SCRIPTS, STYLES = "js/", "css/"
STAND_INS = {
    "pair/sync.js": "copy/from-file.js",
    "pair/export-here.js": "copy/save-counts.js",
    "knit/deferred-styles.js": "copy/styled.js",
}
"""What the knit page has from a server, and what a copy has instead."""
ONLINE_ONLY = (
    *(
        "phone/made-here.js",
        "phone/offer-runtime.js",
        "phone/take-back.js",
        "pair/pairs-here.js",
        "pair/gauges.js",
        "pages/register-worker.js",
        "pair/proposals.js",
        "knit/deferred/announcements.js",
    ),
    *("knit/sheets/check-notice.js", "knit/sheets/plain-http.js", "knit/sheets/plan-changed.js"),
    *("knit/sheets/plan-conflict.js", "knit/sheets/planned-otherwise.js", "knit/sheets/put-back.js"),
    "knit/sheets/second-sock.js",
)
"""Modules with nothing to do where there is no server: they would only take room in a copy."""
LOOKS = (
    *("lib/base", "knit/knit", "knit/deferred", "knit/small-sock", "knit/sheets", "knit/leader", "lib/chart"),
    "pages/copy",
)
"""The style sheets of a copy, in the order in which the knit page loads them."""

ONLINE = {"told", "photos", "design_changed"}
"""Of a design, what is asked of the server again or answered to it."""


@dataclass(frozen=True)
class Frame:
    """What every copy has: a script, packed, the one that `begins` by unpacking it, and one style.

    The `policy` allows these three and nothing else.
    """

    script: str
    begins: str
    style: str
    policy: str


def _frame(assets: Assets) -> Frame:
    texts = {path: file.body.decode() for path, file in assets.files.items() if path.startswith((SCRIPTS, STYLES))}
    modules = {path.removeprefix(SCRIPTS): text for path, text in texts.items()}
    script, begins = bundle(modules, "copy/start.js", STAND_INS, ONLINE_ONLY), tight(modules["copy/unpack.js"])
    style = tight("\n".join(texts[f"{STYLES}{name}.css"] for name in LOOKS))
    rules = (
        "default-src 'none'",
        f"script-src {_source(begins)} {_source(script)}",
        f"style-src {_source(style)}",
        "img-src blob: data:",  # photos of notes; the empty icon
        "worker-src blob:",
        "base-uri 'none'",
        "form-action 'none'",
    )
    return Frame(_packed(script), begins, style, "; ".join(rules))


def _source(text: str) -> str:
    """A script or style in the page as a policy names it (CSP 3, section 2.3.1)."""
    return f"'sha256-{base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()}'"


def _packed(text: str) -> str:
    """A text as `static/js/copy/unpack.js` unpacks it: far shorter, with no letter that means something in a page."""
    return base64.b64encode(zlib.compress(text.encode(), 9, wbits=-zlib.MAX_WBITS)).decode()


def _data(pair_data: dict[str, Any]) -> dict[str, Any]:
    """What the knit page needs, without what only a server can go on from."""
    scripts = [{**script, "can_undo": False, "changed": None} for script in pair_data["scripts"]]
    kept = {name: value for name, value in pair_data.items() if name not in ONLINE}
    return {**kept, "scripts": scripts, "asks_for_second_sock": False}


@bp.get("/pair/<link>/copy")
def copy(link: str) -> Response:
    """A copy of the pair to count from without a server: one file to save, which does not have the link."""
    pair, mark = open_pair(link), mark_of(link)
    frame: Frame = current_app.extensions["copies"]
    page = render_template(
        "pair/copy.html",
        title=pair.title,
        mark=mark,
        copied_on=day_at(store().moment(), "UTC"),
        written=as_text(wanted_of_pair(pair, link).pattern()),
        pair_data=_packed(json.dumps(_data(kept_data(pair, link)))),
        file=_packed(store().whole_pair(pair.pair).as_text()),
        policy=frame.policy,
        script=frame.script,
        begins=frame.begins,
        style=frame.style,
    )
    return to_save(page, pair.title, "pair", "html", "text/html; charset=utf-8")


def init_app(app: Flask) -> None:
    """Make what every copy has, once."""
    app.extensions["copies"] = _frame(app.extensions["assets"])
