"""Which sock a gauge check is for and where that sock is, as the address or the form says."""

from __future__ import annotations

from dataclasses import replace

from flask import abort, request

from ...pair.logbook import SOCKS, Sock
from ...pair.state import SockPosition
from ..open_pair import OpenPair
from ..request_args import whole_number


def position_asked(pair: OpenPair) -> SockPosition:
    """The place that is asked about; what the server knows of it when nothing is said."""
    position = pair.position(sock_asked())
    total = position.plan.count
    done = _whole_number("round", position.done)
    if done > total:
        abort(400, f"This sock has {total} rounds, not {done}. Open the check from the knit page.")
    return replace(position, done=done)


def sock_asked() -> Sock:
    """The sock that is asked about, the first when nothing is said."""
    number = _whole_number("sock", 1)
    if number not in SOCKS:
        abort(400, "A pair has sock 1 and sock 2. Open the check from the knit page.")
    return 2 if number == 2 else 1


def _whole_number(name: str, default: int) -> int:
    if not request.values.get(name):
        return default
    number = whole_number(name)
    if number is None:
        abort(400, f"“{name}” has to be a whole number in this address. Open the check from the knit page.")
    return number
