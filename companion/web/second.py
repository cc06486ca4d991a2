"""Sock two, once sock one was changed: by which plan it is knitted."""

from __future__ import annotations

from collections.abc import Sequence

from flask import Blueprint, abort, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue

from ..pair import Revision
from ..planning.facts import Numbers
from ..planning.faults import CannotKnitError
from ..planning.matching import Match, matches_for, same_sock
from ..planning.recalculation import measured_request
from .asked import whole_number
from .evidence_of import gauges_of_pair
from .open_pair import OpenPair, open_pair
from .revising import Accepted, keep

CHANGED_MEANWHILE = "The plan was changed from elsewhere in the meantime. Open this page again and look at it anew."
BEGUN = "Sock two is begun, and a sock that is begun goes on by its own plan."

pages = Blueprint("second", __name__)


def changed_while_knitted(revisions: Sequence[Revision]) -> bool:
    """Whether a change of sock one was accepted after its cast-on."""
    return any(revision.sock == 1 and revision.done for revision in revisions)


def _cast_on_by(revisions: Sequence[Revision]) -> Revision:
    """The revision that sock one was begun with: its newest before the first change while it was knitted."""
    own = [revision for revision in revisions if revision.sock == 1]
    first = next((number for number, revision in enumerate(own) if revision.done), len(own))
    return own[max(0, first - 1)]


def choices(pair: OpenPair) -> tuple[Match, ...]:
    """The plans that sock two can have; none where sock one was not changed."""
    if not changed_while_knitted(pair.revisions):
        return ()
    knitted = pair.plan(1)
    try:
        measured = measured_request(knitted.request, gauges_of_pair(pair))
    except CannotKnitError:
        measured = knitted.request
    return matches_for(pair.plan_of(_cast_on_by(pair.revisions)), knitted, measured)


@pages.get("/pair/<link>/second")
def second(link: str) -> ResponseReturnValue:
    """The three ways to knit sock two, each with its sizes and what is different from sock one."""
    pair = open_pair(link)
    return render_template(
        "second.html",
        link=link,
        pair_title=pair.pair.title,
        unit=pair.pair.unit,
        begun=bool(pair.done[2]),
        newest=pair.newest,
        found=(found := choices(pair)),
        numbers={match.key: Numbers(match.plan, match.sizes) for match in found},
        follows=pair.plan(2),
        told=[
            revision.summary.partition("\n")[0].partition(", ")[2]
            for revision in pair.revisions
            if revision.sock == 1 and revision.done
        ],
    )


@pages.post("/pair/<link>/second")
def choose(link: str) -> ResponseReturnValue:
    """Knit sock two by one of them, from its cast-on."""
    pair = open_pair(link)
    if request.form.get("newest") != str(pair.newest):
        abort(409, CHANGED_MEANWHILE)
    if pair.done[2] or whole_number("round_2"):
        abort(409, BEGUN)
    match = next((one for one in choices(pair) if one.key == request.form.get("choice")), None)
    if match is None:
        abort(422, "Choose one of the ways to knit sock two. Go back to them.")
    if not same_sock(match.plan, pair.plan(2)):
        accepted = Accepted(
            sock=2,
            done=0,
            title=f"Sock 2, before its cast-on: {match.title}",
            plan=match.plan,
            changes=match.changes,
            option=f"sock two {match.key}",
        )
        keep(pair, accepted, CHANGED_MEANWHILE)
    return redirect(url_for("pages.knit", link=link), 303)
