"""A line for each request, for whoever runs a server: what was asked for, and how long it took.

A path opens a pair, so only the endpoint is named. There is no address either: who knits when is private.
"""

from __future__ import annotations

import json
import time
from collections.abc import Callable, Sequence
from typing import NamedTuple

from flask import Flask, Response, g, request


class Answered(NamedTuple):
    """A request that was answered. `endpoint` is None where there is none at its path."""

    endpoint: str | None
    method: str
    status: int
    seconds: float

    def as_line(self) -> str:
        """A line of JSON."""
        told = {"endpoint": self.endpoint, "method": self.method, "status": self.status}
        return json.dumps({**told, "ms": round(self.seconds * 1000, 1)})


def init_app(app: Flask, tell: Sequence[Callable[[Answered], object]]) -> None:
    """Tell all these of each request that the app answers."""

    def begin() -> None:
        g.request_began = time.perf_counter()

    def end(response: Response) -> Response:
        took = time.perf_counter() - g.get("request_began", time.perf_counter())
        for one in tell:
            one(Answered(request.endpoint, request.method, response.status_code, took))
        return response

    # Before all others that come before a request, so that what they refuse is timed as well.
    app.before_request_funcs.setdefault(None, []).insert(0, begin)
    app.after_request(end)
