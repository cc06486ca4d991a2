"""A leader and her followers, as the tests of the web need them."""

from __future__ import annotations

import io
import re

from companion.store import Store
from companion.web.links import follower_link

from ..conftest import Browser
from ..photographs import photograph

DESIGN = {
    "unit": "cm",
    "title": "Larch and moss",
    "direction": "cuff-down",
    "heel": "flap",
    "toe": "wedge",
    "rib": "k2 p2",
    "cuff_length": "4",
    "leg_length": "14",
    "note_heel": "Slip the first stitch of every row.",
    "time_zone": "Europe/Berlin",
    "stage_name_1": "Leg done",
    "stage_sock_1": "1",
    "stage_until_1": "leg",
    "stage_by_1": "2025-11-09",
}
"""A design form filled in soundly. The tests' clock stands at noon of Monday 3 November 2025, in UTC."""

BODY = {"unit": "cm", "ball_circumference": "23", "foot_length": "25", "stitches": "30", "rounds": "42"}
"""A follower's form filled in soundly."""


def lead(browser: Browser, **changes: str) -> str:
    """A new design; returns the leader's link."""
    answer = browser.post("/design", {**DESIGN, **changes})
    assert answer.status_code == 303, answer.text
    found = re.fullmatch(r"/design/([\w-]{22})", answer.headers["Location"])
    assert found
    return found[1]


def lead_too(browser: Browser, leader: str, name: str = "Wiebke") -> str:
    """A further leader of a design; returns her link."""
    answer = browser.post(f"/design/{leader}/leaders", {"name": name})
    assert answer.status_code == 200, answer.text
    found = re.search(r"/design/([\w-]{22})</p>", answer.text)
    assert found
    return found[1]


def handed_out(browser: Browser, leader: str) -> str:
    """The link that a leader's page hands out to followers."""
    found = re.search(r"/join/([\w-]{22})</p>", browser.get(f"/design/{leader}").text)
    assert found
    return found[1]


def version_of(browser: Browser, leader: str) -> str:
    """The version that the form of a design is made from, asked of the store: the form itself is the longest page."""
    store: Store = browser.client.application.extensions["store"]
    version = store.designs.led_by(leader)
    assert version
    return str(version.number)


def change(browser: Browser, leader: str, **changes: str) -> None:
    """Change a design."""
    form = {**DESIGN, "version": version_of(browser, leader), **changes}
    answer = browser.post(f"/design/{leader}/edit", form)
    assert answer.status_code == 303, answer.text


def join(browser: Browser, leader: str, link: str = "", **changes: str) -> str:
    """A new pair by a design, from the followers' link that it was made with or another; returns the pair's link."""
    answer = browser.post(f"/join/{link or follower_link(leader)}", {**BODY, **changes})
    assert answer.status_code == 303, answer.text
    found = re.fullmatch(r"/pair/([\w-]{22})", answer.headers["Location"])
    assert found
    return found[1]


def keep_photo(browser: Browser, leader: str, image: bytes | None = None, part: str = "heel") -> int:
    """Put a photo beside a note of a design; returns the answer's status."""
    file = io.BytesIO(photograph() if image is None else image)
    form = {"csrf_token": browser.token(), "part": part, "photo": (file, "x.jpg")}
    return browser.client.post(f"/design/{leader}/photo", data=form, content_type="multipart/form-data").status_code
