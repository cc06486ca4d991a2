"""How much is taken from one address in an hour. Counting rounds and sending them is never among it."""

from __future__ import annotations

import math
import time
from dataclasses import dataclass
from http import HTTPStatus
from ipaddress import IPv6Address, ip_address

from flask import Flask, current_app, request
from flask.typing import ResponseReturnValue
from limits import RateLimitItemPerHour
from limits.storage import MemoryStorage
from limits.strategies import MovingWindowRateLimiter
from werkzeug.exceptions import HTTPException, TooManyRequests


@dataclass(frozen=True)
class Quota:
    """So many of something in any hour; a class of forty behind one address may do all of it several times (ours)."""

    most: int
    what: str


PAIRS = Quota(200, "pairs are planned")
DESIGNS = Quota(100, "designs are made or changed")
IMPORTS = Quota(60, "files are imported")
PHOTOS = Quota(120, "photos are kept")

IPV6_HOME = 64
"""Bits of an IPv6 address that stand for one household (RFC 6177, section 2: a site is given at least a /64)."""


def _sender() -> str:
    """Where the request comes from: an IPv4 address, or of an IPv6 one the network, which is all one sender's."""
    given = request.remote_addr or ""
    try:
        address = ip_address(given)
    except ValueError:
        return given
    if not isinstance(address, IPv6Address):
        return given
    if address.ipv4_mapped:
        return str(address.ipv4_mapped)
    return hex(int(address) >> (128 - IPV6_HOME))


def refusal(quota: Quota) -> TooManyRequests | None:
    """Count one more from where this request comes; the refusal with its sentence, where that is too many.

    What is refused does not count.
    """
    if not current_app.config["QUOTAS"]:
        return None
    counted: MovingWindowRateLimiter = current_app.extensions["quotas"]
    hour = RateLimitItemPerHour(quota.most)
    sender = _sender()
    if counted.hit(hour, quota.what, sender):
        return None
    wait = max(1, math.ceil(counted.get_window_stats(hour, quota.what, sender).reset_time - time.time()))
    minutes = math.ceil(wait / 60)
    again = f"in {minutes} minutes" if minutes > 1 else "in a minute"
    return TooManyRequests(
        f"From one address at most {quota.most} {quota.what} in an hour, and so many were. Try again {again}.",
        retry_after=wait,
    )


def take(quota: Quota) -> None:
    """Count one more; answers 429 where that is too many."""
    if refused := refusal(quota):
        raise refused


def shown_again(page: str, refused: TooManyRequests) -> ResponseReturnValue:
    """A form as it was filled in, for an answer that refuses to take it now."""
    return page, HTTPStatus.TOO_MANY_REQUESTS, retry_after(refused)


def retry_after(error: HTTPException) -> dict[str, str]:
    """The header that tells programs when to try again, where a refusal has one (RFC 9110, section 10.2.3)."""
    return {name: value for name, value in error.get_headers() if name == "Retry-After"}


def init_app(app: Flask) -> None:
    """Begin to count. It is forgotten when the program ends.

    Each process counts for itself, and nothing of anybody's address is kept: behind the proxy of `companion deploy` one
    address always meets the same server, so that its count is whole.
    """
    app.extensions["quotas"] = MovingWindowRateLimiter(MemoryStorage())
