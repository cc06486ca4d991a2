"""What a phone asks, and what it is answered: JSON in and out. Pure: it runs in a browser, too."""

from __future__ import annotations

import gc
import json
from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import Any

from ..pair.changing.proposal import proposed
from ..pair.changing.second_sock import asks_for_second_sock
from ..pair.changing.taking_back import OFFERED_ROUNDS, free_until, socks_past
from ..pair.file import KeptRevision, PairFile, file_in
from ..pair.knit_data import knit_data
from ..pair.logbook import Sock
from ..pair.revisions import OTHER_FOOT
from .form_answer import counts_answer, form_answer
from .pages import page_answer
from .rendering import compile_all

OF_THE_SERVER = {"mark", "epoch", "cursor"}
"""What the knit page has of a pair from the server alone."""


def acceptance(chosen: Mapping[str, Any], text: str, moment: str) -> dict[str, Any] | None:
    """What a phone keeps once something was chosen on one of these pages; None where the plan stays as it is.

    That is the proposal, its revision in the pair's file, the `place` of the sock by it, and the pair as its knit page
    takes it. `chosen` is the `choice`, the `key` of what was chosen, the `sock`, and how many rounds of it are `done`;
    `moment` is now, in UTC in ISO 8601. Raises ValueError where there is no such way to go on.
    """
    file = file_in(text)
    known = max(one.number for one in file.revisions)
    pair = file.as_state()
    proposal, accepted = proposed(pair, chosen, known)
    sock = proposal.sock
    if accepted.plan == pair.plan(sock) and not (sock == 2 and asks_for_second_sock(pair.revisions)):
        return None
    revision = accepted.revision(known + 1, {1: proposal.other_done, 2: proposal.other_done})
    kept = KeptRevision(  # without the check, which the logbook has
        **{name: getattr(revision, name) for name in ("number", "sock", "done", "other_done", "option", "summary")},
        created=moment,
        plan=json.loads(revision.plan),
    )
    return {
        "proposal": proposal.model_dump(mode="json"),
        "revision": kept.model_dump(mode="json"),
        "place": accepted.done,
        "data": _knit_data(file.model_copy(update={"revisions": (*file.revisions, kept)}), sock, accepted.done),
    }


def taking_back(text: str, sock: Sock) -> dict[str, Any]:
    """What a phone keeps once the newest change of a sock was taken back.

    That is what it tells the server, the `place` of the sock by it, and the pair as its knit page takes it. Raises
    ValueError where the sock has no such change, or is knitted too far past it.
    """
    file = file_in(text)
    pair = file.as_state()
    change = pair.followed[sock]
    if change.number == 1 or change.number != pair.newest or change.option == OTHER_FOOT:
        raise ValueError("there is no change of this sock to take back")
    free = free_until(pair)
    if set(socks_past(pair, free, pair.done)) - {sock} or pair.done[sock] > change.done + OFFERED_ROUNDS:
        raise ValueError("it is already knitted by the changed plan; make a new check instead")
    left = tuple(
        one.model_copy(update={"state": "withdrawn"}) if one.number == change.number else one for one in file.revisions
    )
    place = min(pair.done[sock], free)
    return {
        "proposal": {"back": change.number, "sock": sock},
        "place": place,
        "data": _knit_data(file.model_copy(update={"revisions": left}), sock, place),
    }


def _knit_data(file: PairFile, sock: Sock, place: int) -> dict[str, Any]:
    """The pair as its knit page takes it, with a sock at a place."""
    pair = file.as_state()
    moved = [end.model_copy(update={"round": place}) for end in pair.ends[sock]]
    data = knit_data(replace(pair, ends={**pair.ends, sock: moved}), "", "", 0, {})
    return {name: value for name, value in data.items() if name not in OF_THE_SERVER}


ANSWERS: Mapping[str, Callable[..., Any]] = {
    "page": page_answer,
    "accept": acceptance,
    "back": taking_back,
    "counts": counts_answer,
    "form": form_answer,
}
"""By the name that the phone asks with; each is given the fields of the question."""


def answer(name: str, question: str) -> str:
    """The answer to a question, both as JSON text. Raises ValueError where the question has no answer."""
    return json.dumps(ANSWERS[name](**json.loads(question)))


def ready() -> None:
    """Have all in memory that an answer needs, for an image of it: what begins by one has no files of these modules."""
    compile_all()
    gc.collect()
    gc.freeze()  # none of it is given up, and to look for what could be takes longer than an answer
