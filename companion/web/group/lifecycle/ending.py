"""A group ends: its design is read and copied, and changed by nobody, until it is opened again."""

from __future__ import annotations

from flask import Blueprint
from flask.typing import ResponseReturnValue

from ...open_pair import store
from ...what_was_done import redirect_saying
from ..open_design import led_design

bp = Blueprint("ending", __name__)


@bp.post("/design/<link>/end")
def end(link: str) -> ResponseReturnValue:
    """Let the group have ended: nobody joins any more and nothing is changed; pairs go on as they are."""
    store().designs.end(led_design(link).version.design)
    return redirect_saying("designs.lead", "group-ended", link=link)


@bp.post("/design/<link>/reopen")
def reopen(link: str) -> ResponseReturnValue:
    """Let a group that has ended go on."""
    store().designs.reopen(led_design(link).version.design)
    return redirect_saying("designs.lead", "group-reopened", link=link)
