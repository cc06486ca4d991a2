"""The line that a page begins with after something was done, and how to undo it where that is possible."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from flask import Flask, redirect, request, url_for
from werkzeug.wrappers import Response

ANSWERS: Mapping[str, str] = {
    "pair-deleted": "The pair was deleted, on the server and in this browser.",
    "design-deleted": "The design was deleted. The pairs made from it stay with their knitters.",
    "imported": "The pair was imported, as a pair of its own. Delete it if you did not want it.",
    "changed": "The plan was changed.",
    "unchanged": "Nothing was different, so the plan is as it was.",
    "taken-over": "Your pair is planned by the changed design.",
    "design-left": "Your plan stays as it is. The changed design waits below, should you want it after all.",
    "group-left": "You have left the group. The pair goes on as one of your own, with its plan and its counts.",
    "group-back": "You are with the group again. Nothing is shared with its leader until you say so.",
    "shared": "Your leader sees this pair now. You can stop sharing at any time.",
    "not-shared": "Your leader sees nothing of this pair any more.",
    "left-out": "Left out: it does not count any more. Write it down again if it was right.",
    "design-changed": "The design was changed. Followers are offered the change for socks not begun.",
    "waiting": "Kept until its day: followers see nothing of it before. It can be changed or taken back below.",
    "waiting-removed": "What waited for that day was taken back.",
    "told": "Your followers see it when they open their plan or their round. It can be taken back below.",
    "announcement-removed": "The announcement was taken back. Say it again if it was right.",
    "announcements-seen": "What your leader said was put away.",
    "design-copied": "This is a copy, under a link of its own, without followers. Delete it if you did not want it.",
    "design-opened": "The design was opened from the file. Delete it if you did not want it.",
    "group-ended": "The group has ended. It can be opened again below.",
    "group-reopened": "The group goes on. It can be ended again below.",
    "link-replaced": "This is the new link for followers. The one before opens nothing any more.",
    "leader-removed": "That link opens nothing any more. Make another one if it was right.",
    "design-recovered": "This is your new link. The one before opens nothing any more, and the code is used up.",
    "photo-kept": "The photo is kept. It can be removed below.",
    "photo-removed": "The photo was removed. Send it again to have it back.",
}
"""By the word in the address (`?did=`). The script of the page takes it out again, so that it is said once."""

KNIT_DONE = frozenset({"accepted", "left", "sock-two", "taken-back"})
"""What the knit page says of what was done; it has the words itself (`static/js/knit/sheets/what-was-done.js`), since
it may be one that the browser kept."""


def redirect_saying(endpoint: str, did: str, **values: Any) -> Response:
    """Lead to a page that says what was done, by its word in ANSWERS."""
    assert did in ANSWERS
    return redirect(url_for(endpoint, did=did, **values), 303)


def redirect_to_knit(link: str, did: str | None) -> Response:
    """Lead to the knit page, which says what was done, by its word in KNIT_DONE; None where it shows that itself."""
    assert did is None or did in KNIT_DONE
    return redirect(url_for("pages.knit", link=link, did=did), 303)


def init_app(app: Flask) -> None:
    """Give the templates the line that the address asks for."""
    app.context_processor(lambda: {"what_was_done": ANSWERS.get(request.args.get("did", "")) if request else None})
