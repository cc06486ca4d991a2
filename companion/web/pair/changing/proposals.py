"""Changes that phones accepted without network: calculated again here, and then kept or asked about."""

from __future__ import annotations

from flask import Blueprint, Response, abort, jsonify
from pydantic import Field

from ....pair.changing.proposal import Proposal, TakenBack
from ....pair.changing.taking_back import free_until, socks_past
from ....planning.frozen_model import FrozenModel
from ....store import StaleRevisionError
from ...group.shared_progress import keep_standing
from ...open_pair import OpenPair, open_pair, store
from ...request_args import document_sent
from ...revising import CHANGED_MEANWHILE, keep_accepted

NO_MORE = (
    "The change cannot be kept any more: what it was made from is no longer in the logbook of this pair. Go on by the "
    "other plan, and make a new check."
)

bp = Blueprint("proposals", __name__)


class Asked(FrozenModel):
    """A change, or one that was taken back.

    `anyway` once the knitter was asked and wants it in place of what came before it.
    """

    proposal: Proposal | TakenBack
    anyway: bool = Field(False, strict=True)


@bp.post("/pair/<link>/proposal")
def propose(link: str) -> Response:
    """Keep a change that a phone accepted or took back by itself, once; 409 where another plan follows by now."""
    pair = open_pair(link)
    asked = document_sent(Asked, "The change that was sent")
    proposal = asked.proposal
    if isinstance(proposal, TakenBack):
        _take_back(pair, proposal)
        return jsonify(revision=open_pair(link).newest)
    if proposal.is_kept(store().ever_accepted(pair.pair, proposal.known)):
        return jsonify(revision=pair.newest)
    accepted = proposal.accepted(pair)
    if accepted is None:
        abort(409, NO_MORE if asked.anyway else CHANGED_MEANWHILE)
    if pair.newest != proposal.basis and not asked.anyway:
        abort(409, CHANGED_MEANWHILE)
    return jsonify(revision=keep_accepted(pair, accepted))


def _take_back(pair: OpenPair, taken: TakenBack) -> None:
    """Withdraw a change, unless that was done already."""
    if taken.back not in {one.number for one in pair.revisions}:
        return
    if pair.newest != taken.back or socks_past(pair, free_until(pair), pair.done):
        abort(409, CHANGED_MEANWHILE)
    try:
        store().withdraw(pair.pair, taken.back)
    except StaleRevisionError:
        abort(409, CHANGED_MEANWHILE)
    keep_standing(pair.pair)
