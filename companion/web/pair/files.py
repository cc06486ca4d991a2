"""A pair on paper and in a file: its logbook to read and print, its export, and the import of one."""

from __future__ import annotations

from flask import Blueprint, Response, render_template, request, url_for
from flask.typing import ResponseReturnValue

from ...group.stages import zone_of
from ...pair.history import logbook_shown
from ..downloads import to_save
from ..links import new_link
from ..open_pair import open_pair, store
from ..what_was_done import redirect_saying
from .importing import take_in

bp = Blueprint("pair_files", __name__)


@bp.get("/pair/<link>/logbook")
def logbook(link: str) -> ResponseReturnValue:
    """What happened when, by day, in the time zone that the address names (`?zone=Europe/Oslo`), or in UTC."""
    pair = open_pair(link)
    zone = zone_of(request.args.get("zone", ""))
    return render_template(
        "pair/logbook.html",
        **logbook_shown(pair, store().entries(pair.pair).values(), store().changes(pair.pair), zone),
        zone=str(zone).replace("_", " "),
        plan_url=url_for("pages.plan", link=link),
        knit_url=url_for("pages.knit", link=link),
        export_url=url_for("pair_files.export", link=link),
    )


@bp.get("/pair/<link>/export")
def export(link: str) -> Response:
    """The whole pair as a file to save."""
    pair = open_pair(link).pair
    return to_save(store().whole_pair(pair).as_text(), pair.title, "pair")


def _faulty(lines: list[str]) -> ResponseReturnValue:
    return render_template("lib/message.html", title="This file cannot be imported", message=" ".join(lines)), 422


@bp.post("/import")
def import_pair() -> ResponseReturnValue:
    """Make a pair of an exported one, under a link of its own."""
    file = request.files.get("pair")
    if not file:
        return _faulty(["No file was chosen. Choose one that was exported from a pair."])
    link = new_link()
    with file.stream:
        faults = take_in(link, file.read())
    if faults:
        return _faulty(faults)
    return redirect_saying("pages.plan", "imported", link=link)
