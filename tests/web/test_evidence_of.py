"""What is known of a pair's gauge."""

from __future__ import annotations

from typing import Any

from flask import Flask

from companion.planning.check import Check
from companion.planning.observed import Assumed
from companion.web.evidence_of import evidence_of, gauges_of_pair
from companion.web.open_pair import open_pair

from ..conftest import Browser, entry


def check(number: int, stitches: float, **changes: Any) -> dict[str, Any]:
    data = {"stitches": [{"count": stitches, "over_cm": 10}]}
    return entry(number, kind="check", round=40, data=data, **changes)


def test_every_check_of_both_socks_counts_once(app: Flask, browser: Browser, link: str) -> None:
    browser.post_json(f"/pair/{link}/log", {"entries": [check(1, 28), check(2, 28.5, sock=2)]})
    with app.test_request_context():
        found = evidence_of(open_pair(link))
        gauges = gauges_of_pair(open_pair(link))
    assert [type(item) for item in found] == [Assumed, Check, Check]
    assert isinstance(found[0], Assumed)
    assert found[0].stitches_per_10cm == 30
    # The counts say 28.25, and what was assumed is not so far off that it does not count a little.
    assert 28.25 < gauges.stitches.per_10cm < 28.6
    assert len(gauges.stitches.seen) == 3


def test_a_miscount_from_a_phone_without_network_is_left_out(app: Flask, browser: Browser, link: str) -> None:
    browser.post_json(f"/pair/{link}/log", {"entries": [check(1, 12), check(2, 28)]})
    with app.test_request_context():
        assert len(evidence_of(open_pair(link))) == 2
