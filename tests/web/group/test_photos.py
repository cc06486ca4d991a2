"""Leaders' photos: kept small and bare, seen by their followers and by nobody else, gone when removed."""

from __future__ import annotations

import pytest

from companion.group.jpeg import MOST_BYTES, bare_jpeg

from ...conftest import Browser
from ...photographs import photograph
from ..designing import change, join, keep_photo, lead


def test_a_photo_is_shown_with_the_part_it_is_for(browser: Browser) -> None:
    leader = lead(browser)
    pair = join(browser, leader)
    assert keep_photo(browser, leader, photograph()) == 303
    for address in (f"/pair/{pair}/pattern", f"/design/{leader}/pattern"):
        page = browser.get(address).text
        base = "/".join(address.split("/")[:3])
        assert page.count(f'src="{base}/photo/heel"') == 1
        assert page.index("photo/heel") < page.index(">Heel turn <")
    answer = browser.get(f"/pair/{pair}/photo/heel")
    assert answer.data == bare_jpeg(photograph())
    assert answer.headers["Content-Type"] == "image/jpeg"
    assert answer.headers["X-Content-Type-Options"] == "nosniff"
    assert "default-src 'none'" in answer.headers["Content-Security-Policy"]
    assert browser.get(f"/pair/{pair}/pair.json").get_json()["photos"]["heel-flap"] == "heel"
    assert f'src="/design/{leader}/photo/heel"' in browser.get(f"/design/{leader}").text


def test_a_photo_stays_through_a_change_and_goes_when_it_is_removed(browser: Browser) -> None:
    leader = lead(browser)
    pair = join(browser, leader)
    keep_photo(browser, leader, photograph())
    keep_photo(browser, leader, photograph(80, 30))
    change(browser, leader, leg_length="9")
    assert browser.get(f"/pair/{pair}/photo/heel").data == bare_jpeg(photograph(80, 30))
    assert browser.post(f"/design/{leader}/photo/heel/remove", {}).status_code == 303
    assert browser.get(f"/pair/{pair}/photo/heel").status_code == 404
    assert "photo/heel" not in browser.get(f"/pair/{pair}").text


@pytest.mark.parametrize(
    ("image", "part", "status"),
    [(b"<svg/>", "heel", 400), (photograph(), "ankle", 400), (b"", "heel", 400)],
)
def test_what_is_no_photo_of_a_part_is_refused(browser: Browser, image: bytes, part: str, status: int) -> None:
    leader = lead(browser)
    assert keep_photo(browser, leader, image, part) == status
    assert f"/design/{leader}/photo/" not in browser.get(f"/design/{leader}").text.replace('/photo"', "")


def test_a_photo_too_large_is_refused_before_it_is_read(browser: Browser) -> None:
    answer = browser.client.post(
        f"/design/{lead(browser)}/photo",
        headers={"X-CSRFToken": browser.token()},
        environ_overrides={"CONTENT_LENGTH": str(2 * MOST_BYTES)},
    )
    assert answer.status_code == 413
