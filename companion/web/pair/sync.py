"""The JSON endpoints of the knit page. The logbook arrives here, more than once if the network wants it so."""

from __future__ import annotations

import json
from collections.abc import Collection, Iterable
from dataclasses import dataclass, field
from http import HTTPStatus
from typing import Annotated, Any

from flask import Blueprint, Response, abort, jsonify, request
from flask.typing import ResponseReturnValue
from flask_wtf.csrf import generate_csrf  # type: ignore[import-untyped]
from pydantic import BaseModel, ConfigDict, Field, StringConstraints

from ...pair.logbook import FURTHEST_AHEAD, HIGHEST_CLOCK, Entry, Uuid, ahead_of_all, highest_clock, read_entry
from ...pair.new_pair import is_begun, planned_alike
from ...planning import Fault
from ...store import LinkTakenError, Pair, Unreadable
from ...strict_json import read_json
from ..links import is_link
from ..open_pair import find_pair, open_pair, store
from ..request_args import document_sent
from ..server import quotas
from ..server.unchanged import unless_unchanged
from .importing import CHANGED, read_file, take_in
from .kept_data import kept_data

MOST_ENTRIES = 500
LONGEST_EPOCH = 64
"""Letters; one that was given out has fewer (ours)."""

HERE_ALREADY = "The server has this pair already, so it was not put back."
ANOTHER_HERE = "The server has another pair under this link, so this one was not taken. It stays on the phone."

bp = Blueprint("sync", __name__)


class Delivery(BaseModel):
    """What a phone sends: entries the server may not have, and where it was left.

    `after` is the number of the last entry that it got from here or that this store said it had kept, `last` its id,
    and `epoch` the store's at that time; a phone that never got them leaves them out.
    """

    model_config = ConfigDict(extra="forbid")

    after: Annotated[int, Field(strict=True, ge=0, le=HIGHEST_CLOCK)] = 0
    entries: Annotated[list[Any], Field(strict=True, max_length=MOST_ENTRIES)] = []
    epoch: Annotated[str, StringConstraints(strict=True, max_length=LONGEST_EPOCH)] | None = None
    last: Uuid | None = None

    def met_before(self, pair: Pair) -> bool:
        """Whether this store holds what the phone was promised that it keeps.

        It does not where an earlier copy of the file was put back, or the pair was deleted and put back.
        """
        if self.epoch is None and self.last is None:
            return True
        return store().met_before(pair, self.epoch, self.after, self.last)


@dataclass(frozen=True)
class _SortedOut:
    """Entries as they were sent: those to keep by their ids, and the others, for the quarantine and for the answer."""

    sound: dict[str, Entry] = field(default_factory=dict)
    unreadable: list[Unreadable] = field(default_factory=list)
    set_aside: list[dict[str, object]] = field(default_factory=list)

    def refuse(self, name: object, fault: str, why: str, sent: object) -> None:
        """Keep an entry out; the phone hears `why`, and `fault` stays beside what was sent."""
        self.unreadable.append(Unreadable("entry as sent", fault, json.dumps(sent)))
        self.set_aside.append({"id": name, "why": why})


def _sorted_out(pair: Pair, sent: Iterable[Any]) -> _SortedOut:
    found = _SortedOut()
    for data in sent:
        entry, faults = read_entry(data)
        if entry:
            found.sound[entry.id] = entry
        else:
            why = "; ".join(map(str, faults))
            found.refuse(data.get("id") if isinstance(data, dict) else None, why, why, data)
    for name, fault in _too_far_ahead(pair, found.sound.values()).items():
        found.refuse(name, str(fault), fault.message, found.sound.pop(name).as_json())
    return found


def _too_far_ahead(pair: Pair, entries: Collection[Entry]) -> dict[str, Fault]:
    """What is wrong with the clocks that would take all others along, by the ids of their entries."""
    if highest_clock(entries) <= FURTHEST_AHEAD:
        return {}  # and the logbook need not be looked through for it
    return ahead_of_all(entries, store().highest_clock(pair))


@bp.get("/csrf")
def csrf_token() -> Response:
    """A token for the next writes of this browser."""
    return jsonify(token=generate_csrf())


@bp.get("/pair/<link>/pair.json")
@unless_unchanged(token=False)
def pair_json(link: str) -> Response:
    """Everything that the knit page needs."""
    return jsonify(kept_data(open_pair(link), link))


@bp.post("/pair/<link>/log")
def log(link: str) -> Response:
    """Keep what arrives and answer with what others wrote. Sending the same again changes nothing.

    `anew` tells a phone that does not go on from here that it has everything to send again; it is then answered as if
    it had heard of nothing.
    """
    pair = find_pair(link)
    delivery = document_sent(Delivery, "The counts that were sent")
    anew = not delivery.met_before(pair)
    sorted_out = _sorted_out(pair, delivery.entries)
    sound = sorted_out.sound
    if sorted_out.unreadable:
        store().quarantine(pair, sorted_out.unreadable)
    if sound:
        store().add_entries(pair, sound.values())
    news = store().news(pair, 0 if anew else delivery.after)
    state = store().sync_state(pair)
    return jsonify(
        kept=list(sound),
        set_aside=sorted_out.set_aside,
        entries=[entry.as_json() for entry in news.entries.values() if entry.id not in sound],
        anew=anew,
        epoch=state.epoch,
        cursor=news.cursor,
        last=news.last,
        revision=state.revision,
        round={str(sock): done for sock, done in state.done.items()},
    )


@bp.post("/pair/<link>/put-back")
def put_back(link: str) -> ResponseReturnValue:
    """Take an exported pair under the link that it had; answers 409 where there is one with it."""
    if not is_link(link):
        abort(404)
    if store().find_pair(link):
        abort(409, HERE_ALREADY)  # without reading what may be long
    try:
        faults = take_in(link, request.get_data())
    except LinkTakenError:
        abort(409, HERE_ALREADY)
    if faults:
        abort(422, " ".join(faults))
    return jsonify({}), HTTPStatus.CREATED


@bp.post("/pair/<link>/begin")
def begin(link: str) -> ResponseReturnValue:
    """Take a pair that a phone has planned by itself; answers 409 where there is another one with its link.

    The same pair sent again changes nothing. `alike`: whether this server plans it alike. It is kept as it was planned
    there also where it does not, as by another version: something may be knitted by it.
    """
    if not is_link(link):
        abort(404)
    found, wrong = read_file(request.get_data())
    if found is None or not is_begun(found):
        abort(422, " ".join(wrong or [CHANGED]))
    here = store().find_pair(link)
    if here is None:
        quotas.take(quotas.PAIRS)
        try:
            store().add_whole_pair(link, found)
        except LinkTakenError:
            here = find_pair(link)  # the same was on its way twice
    if here and read_json(store().revisions(here)[0].plan.encode()) != found.revisions[0].plan:
        abort(409, ANOTHER_HERE)
    return jsonify(alike=planned_alike(found)), HTTPStatus.OK if here else HTTPStatus.CREATED
