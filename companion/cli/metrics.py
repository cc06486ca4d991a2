"""Numbers about requests for a Prometheus server (prometheus.io), on a port of this computer alone.

Needs the extra `metrics`. As in the log of requests, a request is an endpoint and never a path, which opens a pair.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager

from ..web.server.request_log import Answered
from .output import CannotServeError

THIS_COMPUTER = "127.0.0.1"

SECONDS = (0.005, 0.01, 0.025, 0.05, 0.1, 0.25, 0.5, 1.0, 2.5)
"""Upper ends of the ranges in which requests are counted: a sync takes a few thousandths, a page 0.3 at most (ours)."""


@contextmanager
def counting_requests(port: int) -> Iterator[Callable[[Answered], None]]:
    """A function that counts a request, and a port where the counts are read while the block runs.

    Raises CannotServeError where the port cannot be listened on or what is needed is not installed.
    """
    try:
        from prometheus_client import CollectorRegistry, Histogram, ProcessCollector, start_http_server  # noqa: PLC0415
    except ImportError as error:
        raise CannotServeError("counts of requests need what `pip install '.[metrics]'` installs") from error
    registry = CollectorRegistry()
    ProcessCollector(registry=registry)
    labels = ["endpoint", "method", "status"]
    requests = Histogram(
        "tapeline_request_seconds", "Time that a request took", labels, registry=registry, buckets=SECONDS
    )
    try:
        server, thread = start_http_server(port, THIS_COMPUTER, registry)
    except (OSError, OverflowError) as error:
        raise CannotServeError(
            f"port {port} for counts of requests cannot be listened on; choose another with --metrics-port"
        ) from error

    def count(answered: Answered) -> None:
        requests.labels(answered.endpoint or "", answered.method, answered.status).observe(answered.seconds)

    try:
        yield count
    finally:
        server.shutdown()
        server.server_close()
        thread.join()
