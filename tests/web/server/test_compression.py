"""Pages go out gzipped where the browser takes it, and only there."""

from __future__ import annotations

import gzip

import pytest

from ...conftest import Browser


def test_a_page_is_smaller_and_the_same(browser: Browser, link: str) -> None:
    url = f"/pair/{link}/pair.json"
    plain, packed = browser.get(url), browser.get(url, headers={"Accept-Encoding": "br, gzip"})
    assert packed.headers["Content-Encoding"] == "gzip"
    assert gzip.decompress(packed.data) == plain.data
    assert int(packed.headers["Content-Length"]) == len(packed.data) < len(plain.data)
    assert "Accept-Encoding" in packed.headers["Vary"]


@pytest.mark.parametrize("accepted", ["", "br", "gzip;q=0", "identity"])
def test_who_does_not_take_it_gets_it_plain(browser: Browser, accepted: str) -> None:
    answer = browser.get("/", headers={"Accept-Encoding": accepted})
    assert "Content-Encoding" not in answer.headers
    assert answer.text.startswith("<!DOCTYPE html>")
    assert "Accept-Encoding" in answer.headers["Vary"]


def test_a_few_bytes_are_left_as_they_are(browser: Browser) -> None:
    assert "Content-Encoding" not in browser.get("/csrf", headers={"Accept-Encoding": "gzip"}).headers
