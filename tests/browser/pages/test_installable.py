"""A phone offers to keep Tapeline among its apps."""

from __future__ import annotations

import io
from xml.etree import ElementTree

import pytest
from PIL import Image
from playwright.sync_api import Page, Route

from ...conftest import Browser
from ..knitting import RETRY, Knitting

TAKEN_OVER = """async (within) => {
    const workers = navigator.serviceWorker;
    const change = new Promise((done) => {
        workers.addEventListener("controllerchange", done);
        setTimeout(done, within);
    });
    if (!workers.controller) await change;
    return workers.controller?.state;
}"""


def test_the_manifest_names_icons_that_are_what_it_says(browser: Browser) -> None:
    answer = browser.get("/manifest.webmanifest")
    # W3C Web Application Manifest: the media type, and the members that a browser needs to install.
    assert answer.headers["Content-Type"].startswith("application/manifest+json")
    manifest = answer.get_json()
    assert manifest["name"] == manifest["short_name"] == "Tapeline"
    assert (manifest["start_url"], manifest["scope"], manifest["display"]) == ("/", "/", "standalone")
    sizes = set()
    for icon in manifest["icons"]:
        answer = browser.get(icon["src"])
        assert answer.status_code == 200
        assert answer.mimetype == icon["type"]
        if icon["type"] == "image/svg+xml":
            assert ElementTree.fromstring(answer.data).tag == "{http://www.w3.org/2000/svg}svg"
            assert icon["sizes"] == "any"
        else:
            width, height = Image.open(io.BytesIO(answer.data)).size
            assert icon["sizes"] == f"{width}x{height}"
            sizes.add((width, icon["purpose"]))
    # Chromium's installability criteria: a PNG, SVG or WebP icon of 144 px or more; Android draws splash screens
    # from 512 px and cuts maskable ones to the launcher's shape.
    assert sizes >= {(192, "any"), (512, "any"), (512, "maskable")}


@pytest.mark.usefixtures("own_phone")
def test_a_page_on_its_way_while_the_worker_comes_is_taken_over_and_the_worker_can_be_got_rid_of(
    page: Page, link: str
) -> None:
    """The worker claims the pages that there are when it becomes active, and this one has no answer yet by then."""
    first = page.context.new_page()

    def hold(route: Route) -> None:
        first.goto("/")
        first.evaluate("navigator.serviceWorker.ready.then(() => true)")
        route.continue_()

    page.route(f"**/pair/{link}/knit", hold, times=1)
    knitting = Knitting(page, link).open()
    assert page.evaluate(TAKEN_OVER, RETRY) == "activated"
    first.close()
    page.reload()
    knitting.is_ready()
    assert page.evaluate("navigator.serviceWorker.controller?.state") == "activated", "it answers for the next page"
    page.goto(f"/pair/{link}/knit?no-worker")
    knitting.is_ready()
    gone = """async () => {
        const left = () => Promise.all([navigator.serviceWorker.getRegistrations(), caches.keys()]);
        while ((await left()).flat().length) await new Promise(requestAnimationFrame);
        return true;
    }"""
    assert page.evaluate(gone)
