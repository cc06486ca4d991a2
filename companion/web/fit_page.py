"""What the newest try-on of a sock means for its rest: the ways to go on, and accepting one."""

from __future__ import annotations

from collections.abc import Sequence

from flask import Blueprint, abort, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue

from ..logbook import Entry, Sock
from ..planning.try_on import Felt, TriedOn, after_try_on
from .check_place import CheckPlace, place_asked
from .evidence_of import gauges_of_pair
from .open_pair import OpenPair, open_pair
from .revising import Accepted, keep

CHANGED_MEANWHILE = (
    "The plan was changed or more was tried on elsewhere in the meantime. Open this page again and look at it anew."
)

pages = Blueprint("fit", __name__)


def _tried(pair: OpenPair, sock: Sock) -> Sequence[Entry]:
    """The try-ons of a sock at the round where it was tried on last, the newest for each part of it."""
    entries = sorted(
        (one for one in pair.entries.values() if one.kind == "try-on" and one.sock == sock), key=Entry.order
    )
    last = [one for one in entries if one.round == entries[-1].round]
    return list({(one.data or {})["where"]: one for one in last}.values())


def _found(pair: OpenPair, place: CheckPlace) -> list[TriedOn]:
    gauges = gauges_of_pair(pair, place.sock)
    return [
        after_try_on(place.plan, place.done, Felt.model_validate(one.data), gauges) for one in _tried(pair, place.sock)
    ]


def _basis(pair: OpenPair, place: CheckPlace) -> str:
    """Names what the page was made from: the plan, and the try-ons."""
    return " ".join([str(pair.newest), *(one.id for one in _tried(pair, place.sock))])


@pages.get("/pair/<link>/fit")
def fit(link: str) -> ResponseReturnValue:
    """The ways to go on after the newest try-on, for the place in the address (`?sock=1&round=85`)."""
    pair = open_pair(link)
    place = place_asked(pair)
    return render_template(
        "fit.html",
        link=link,
        pair_title=pair.pair.title,
        unit=pair.pair.unit,
        place=place.in_words(),
        sock=place.sock,
        round=place.done,
        basis=_basis(pair, place),
        found=_found(pair, place),
    )


@pages.post("/pair/<link>/fit")
def accept(link: str) -> ResponseReturnValue:
    """Knit on by one of them; `choice` names the part of the sock and the option."""
    pair = open_pair(link)
    place = place_asked(pair)
    if request.form.get("basis") != _basis(pair, place):
        abort(409, CHANGED_MEANWHILE)
    if pair.done[place.sock] > place.done:
        abort(409, f"Sock {place.sock} has been counted on since. Open this page again from the knit page.")
    where, _, key = request.form.get("choice", "").partition(" ")
    chosen = [(tried, one) for tried in _found(pair, place) for one in tried.options]
    match = next(((tried, one) for tried, one in chosen if (tried.felt.where, one.key) == (where, key)), None)
    if match is None:
        abort(422, "Choose one of the ways to go on. Go back to them.")
    tried, option = match
    if option.plan != place.plan:
        felt = f"{tried.felt.feels} at the {tried.felt.where}"
        accepted = Accepted(
            sock=place.sock,
            done=place.done,
            title=f"Sock {place.sock}, after round {place.done}, {felt}: {option.title}",
            plan=option.plan,
            changes=option.changes,
            option=f"try-on {key}",
        )
        keep(pair, accepted, CHANGED_MEANWHILE)
    return redirect(url_for("pages.knit", link=link), 303)
