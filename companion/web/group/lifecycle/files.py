"""A design goes into a file and comes out of it, here or on another server."""

from __future__ import annotations

import json
from datetime import date

from flask import Blueprint, Response, render_template, request
from flask.typing import ResponseReturnValue

from ....planning.plan.design import Design
from ....planning.plan.document import PARTS_OF_SOCK
from ....store import LinkTakenError
from ....store.group.design_links import FurtherLeader
from ....store.group.whole_designs import WholeDesign
from ....strict_json import UnsoundJSONError, read_json
from ....words import sentence
from ...downloads import to_save
from ...links import new_link
from ...open_pair import store
from ...server import quotas
from ...what_was_done import redirect_saying
from ..open_design import LedDesign, led_design, own_design
from .design_file import DesignFile, Further, Later, Moved, Notice, read_design_file
from .saving import begin_design, waits, whole_design

NOT_WHOLE = "It is not a whole file. Save the design again, and open that file."
CHANGED = "It was damaged, or changed by hand. Save the design again, and open that file."
HERE_ALREADY = "This design is on this server already: its leader's link opens it."

bp = Blueprint("design_files", __name__)


@bp.get("/design/<link>/export")
def export(link: str) -> Response:
    """The design with its photos as a file to save."""
    led = led_design(link)
    return _saved(led, whole_design(led), None)


@bp.get("/design/<link>/move")
def move(link: str) -> Response:
    """The same with its links and all that belongs to its group, to take it to another server."""
    led = own_design(link)
    number, (*before, _) = led.version.design, store().whole_designs.documents(led.version.design)
    moved = Moved(
        leader=link,
        followers=led.join_link,
        further=tuple(
            Further(key=one.key, name=one.name, since=one.since) for one in store().design_links.further(number)
        ),
        before=tuple(json.loads(document) for document in before),
        told=tuple(Notice(at=one.at, words=one.words) for one in reversed(store().announcements.of_design(number))),
        waiting=tuple(
            Later(day=date.fromisoformat(one.day), design=json.loads(one.document))
            for one in store().waiting.of_design(number)
        ),
        ended=led.version.ended,
        recovery=store().design_links.recovery(number),
    )
    return _saved(led, led.design, moved)


def _saved(led: LedDesign, design: Design, moved: Moved | None) -> Response:
    photos = ((part, store().photos.find(led.version.design, part)) for part in PARTS_OF_SOCK)
    file = DesignFile.model_construct(
        design=design.model_dump(mode="json", exclude_none=True),
        photos={part: image for part, image in photos if image},
        moved=moved,
    )
    return to_save(file.as_text(), design.title, "design")


@bp.post("/design/open")
def take_in() -> ResponseReturnValue:
    """Make a design of a file: one of its own, or the one that moves here under its own links."""
    given = request.files.get("design")
    if not given:
        return _faulty(["No file was chosen. Choose one that was saved on a leader's page."])
    quotas.take(quotas.IMPORTS)
    with given.stream:
        body = given.read()
    try:
        found, faults = read_design_file(read_json(body))
    except UnsoundJSONError:
        return _faulty([NOT_WHOLE])
    if found is None:
        # Where in the file it is tells nobody anything who has not written it.
        return _faulty(list(dict.fromkeys(CHANGED if one.where else sentence(one.message) for one in faults)))
    try:
        return redirect_saying("designs.lead", "design-opened", link=_kept(found))
    except LinkTakenError:
        return _faulty([HERE_ALREADY])


def _kept(found: DesignFile) -> str:
    """Keep the design of a file; returns its leader's link. Raises LinkTakenError where it is here already."""
    moved = found.moved
    if moved is None:
        leader = new_link()
        begin_design(leader, Design.model_validate(found.design), found.photos)
        return leader
    whole = WholeDesign(
        [_document(one) for one in (*moved.before, found.design)],
        found.photos,
        moved.ended,
        [(one.at, one.words) for one in moved.told],
        [FurtherLeader(one.key, one.name, one.since) for one in moved.further],
        [waits(one.day, Design.model_validate(one.design)) for one in moved.waiting],
        moved.recovery,
    )
    store().whole_designs.add(moved.leader, moved.followers, whole)
    return moved.leader


def _document(design: dict[str, object]) -> str:
    """A sound design as the store keeps it."""
    return Design.model_validate(design).model_dump_json()


def _faulty(lines: list[str]) -> ResponseReturnValue:
    return render_template("lib/message.html", title="This file cannot be opened", message=" ".join(lines)), 422
