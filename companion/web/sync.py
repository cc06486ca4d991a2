"""The JSON endpoints of the knit page. The logbook arrives here, more than once if the network wants it so."""

from __future__ import annotations

import json
from typing import Annotated, Any

from flask import Blueprint, Response, abort, jsonify, request
from flask_wtf.csrf import generate_csrf  # type: ignore[import-untyped]
from pydantic import BaseModel, ConfigDict, Field, ValidationError

from ..logbook import HIGHEST_CLOCK, read_entry
from ..planning.faults import faults_of
from ..strict_json import UnsoundJSONError, read_json
from .knitting import knit_data
from .open_pair import find_pair, open_pair, store

MOST_ENTRIES = 500

pages = Blueprint("sync", __name__)


class Delivery(BaseModel):
    """What a phone sends: entries the server may not have, and the number of the last one it got from there."""

    model_config = ConfigDict(extra="forbid")

    after: Annotated[int, Field(strict=True, ge=0, le=HIGHEST_CLOCK)] = 0
    entries: Annotated[list[Any], Field(strict=True, max_length=MOST_ENTRIES)] = []


def _delivery() -> Delivery:
    try:
        return Delivery.model_validate(read_json(request.get_data()))
    except UnsoundJSONError as error:
        abort(400, f"The counts that were sent cannot be read: {error}.")
    except ValidationError as error:
        abort(400, "; ".join(map(str, faults_of(error))))


@pages.get("/csrf")
def csrf_token() -> Response:
    """A token for the next writes of this browser."""
    return jsonify(token=generate_csrf())


@pages.get("/pair/<link>/pair.json")
def pair_json(link: str) -> Response:
    """Everything that the knit page needs."""
    return jsonify(knit_data(open_pair(link)))


@pages.post("/pair/<link>/log")
def log(link: str) -> Response:
    """Keep what arrives and answer with what others wrote. Sending the same again changes nothing."""
    pair = find_pair(link)
    delivery = _delivery()
    sound = {}
    set_aside = []
    for data in delivery.entries:
        entry, faults = read_entry(data)
        if entry:
            sound[entry.id] = entry
        else:
            name = data.get("id") if isinstance(data, dict) else None
            why = "; ".join(map(str, faults))
            store().set_aside(pair, "entry as sent", why, json.dumps(data))
            set_aside.append({"id": name, "why": why})
    if sound:
        store().add_entries(pair, sound.values())
    return jsonify(
        kept=list(sound),
        set_aside=set_aside,
        entries=[entry.as_json() for entry in store().entries(pair, delivery.after).values() if entry.id not in sound],
        cursor=store().cursor(pair),
        revision=store().newest_revision(pair),
        round={str(sock): done for sock, done in store().places(pair).items()},
    )
