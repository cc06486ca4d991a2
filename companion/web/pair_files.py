"""A pair on paper and in a file: its logbook to read and print, its export, and the import of one."""

from __future__ import annotations

from flask import Blueprint, Response, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue

from ..history import history
from ..pair_file import PairFile, read_pair_file
from ..strict_json import UnsoundJSONError, read_json
from .design_stages import zone_of
from .links import new_link
from .open_pair import open_pair, store
from .saving import to_save

pages = Blueprint("pair_files", __name__)


@pages.get("/pair/<link>/logbook")
def logbook(link: str) -> ResponseReturnValue:
    """What happened when, by day, in the time zone that the address names (`?zone=Europe/Oslo`), or in UTC."""
    pair = open_pair(link)
    zone = zone_of(request.args.get("zone", ""))
    changes = [
        (revision.created, revision.summary.partition("\n")[0])
        for revision in store().whole_pair(pair.pair).revisions
        if revision.summary and revision.state == "accepted"
    ]
    return render_template(
        "logbook.html",
        title=pair.pair.title,
        days=history(pair.entries.values(), changes, pair.pair.unit, zone),
        zone=str(zone).replace("_", " "),
        places=pair.done,
        plan_url=url_for("pages.plan", link=link),
        knit_url=url_for("pages.knit", link=link),
        export_url=url_for("pair_files.export", link=link),
    )


@pages.get("/pair/<link>/export")
def export(link: str) -> Response:
    """The whole pair as a file to save."""
    pair = open_pair(link).pair
    return to_save(store().whole_pair(pair).as_text(), pair.title, "pair")


def _faulty(lines: list[str]) -> ResponseReturnValue:
    return render_template(
        "message.html", title="This file cannot be imported", message=" ".join(lines), status=422
    ), 422


def _given() -> PairFile | list[str]:
    file = request.files.get("pair")
    if not file:
        return ["No file was chosen. Choose one that was exported from a pair."]
    body = file.read()
    file.close()
    try:
        found, faults = read_pair_file(read_json(body))
    except UnsoundJSONError as error:
        return [f"It is not a whole file: {error}."]
    return found or [f"{fault}." for fault in faults]


@pages.post("/import")
def import_pair() -> ResponseReturnValue:
    """Make a pair of an exported one, under a link of its own."""
    given = _given()
    if isinstance(given, list):
        return _faulty(given)
    link = new_link()
    store().add_whole_pair(link, given)
    return redirect(url_for("pages.plan", link=link), 303)
