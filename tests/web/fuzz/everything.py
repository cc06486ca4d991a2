"""A pair with all that a pair can have: a leader, three plans, counts, and a remark of each kind."""

from __future__ import annotations

from typing import Any

from ...conftest import Browser, entry
from ..checking import accept, counted
from ..designing import join, keep_photo, lead

REMARKS: dict[str, dict[str, Any]] = {
    "note": {"text": "Half a size smaller"},
    "try-on": {"where": "leg", "feels": "tight"},
    "check": {"stitches": [{"count": 28, "over_cm": 10}], "rounds": [{"count": 40, "over_cm": 10}]},
    "weighing": {"grams": 71},
    "length": {"cm": 9.5},
    "decision": {"way": "as it is"},
}


def remark(number: int, kind: str, **changes: Any) -> dict[str, Any]:
    """A sound remark of a kind at a round of sock 1."""
    return entry(number, **{"kind": kind, "round": 40, "data": REMARKS[kind], **changes})


def pair_with_everything(browser: Browser) -> tuple[str, str]:
    """The leader's link and the pair's; sock 1 was changed twice while it was knitted, and sock 2 had been begun."""
    leader = lead(browser)
    keep_photo(browser, leader)
    link = join(browser, leader)
    counted(browser, link, 40)
    counted(browser, link, 41, sock=2)
    assert accept(browser, link, "rest") == 303
    counted(browser, link, 50)
    assert accept(browser, link, "rest", stitches_1="26", round="50") == 303
    kept = [remark(100 + number, kind) for number, kind in enumerate(REMARKS)]
    slip = entry(200, kind="withdrawal", round=40, data={"entry": kept[0]["id"]})
    answer = browser.post_json(f"/pair/{link}/log", {"entries": [*kept, slip]})
    assert len(answer.get_json()["kept"]) == len(kept) + 1, answer.get_json()
    assert browser.post(f"/pair/{link}/share", {"first_name": "Ortrun", "size": "y"}).status_code == 303
    return leader, link
