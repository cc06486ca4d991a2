"""A line of JSON for each request, for whoever runs a server: what was asked for, and how long it took.

A path opens a pair, so that a line names the endpoint alone. It has no address either: who knits when is nobody's.
"""

from __future__ import annotations

import json
import time
from collections.abc import Callable

from flask import Flask, Response, g, request


def init_app(app: Flask, write: Callable[[str], object]) -> None:
    """Write a line for each request that the app answers."""

    def begin() -> None:
        g.request_began = time.perf_counter()

    def end(response: Response) -> Response:
        began = g.get("request_began", time.perf_counter())
        write(
            json.dumps(
                {
                    "endpoint": request.endpoint,
                    "method": request.method,
                    "status": response.status_code,
                    "ms": round((time.perf_counter() - began) * 1000, 1),
                }
            )
        )
        return response

    # Before all others that come before a request, so that what they refuse is timed as well.
    app.before_request_funcs.setdefault(None, []).insert(0, begin)
    app.after_request(end)
