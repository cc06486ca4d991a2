"""What the pages are given: pairs that are knitted in ways that no sample has, and photos."""

from __future__ import annotations

import io
import json
import random
import re
from collections.abc import Callable
from typing import Any

from PIL import Image
from playwright.sync_api import FilePayload, Page, Route

from tests.pair.test_packed import unpacked

NO_WORKERS = "delete Navigator.prototype.serviceWorker"
"""A script that makes a browser one without service workers, before a page's own scripts run."""


def change_data(page: Page, *changes: Callable[[dict[str, Any]], None]) -> None:
    """Have the knit page given other data than the server's, always from the network."""

    def answer(route: Route) -> None:
        response = route.fetch()
        page_text = response.text()
        found = re.search(r'(?<=id="pair">).*?(?=</script>)', page_text)
        assert found
        data = unpacked(json.loads(found[0]))
        for change in changes:
            change(data)
        route.fulfill(response=response, body=page_text.replace(found[0], json.dumps(data).replace("<", "\\u003c")))

    page.add_init_script(NO_WORKERS)
    page.route(re.compile(r"/pair/[\w-]+/knit$"), answer)


def write_elsewhere(page: Page, link: str, *entries: dict[str, Any]) -> None:
    """Put entries into the logbook of a pair, as another phone would."""
    token = page.request.get("/csrf").json()["token"]
    sent = page.request.post(f"/pair/{link}/log", data={"after": 0, "entries": entries}, headers={"X-CSRFToken": token})
    assert sent.ok


def chart(data: dict[str, Any]) -> None:
    """Give the leg's rounds a chart of eight rows, and each zone and needle its stitches."""
    script = data["scripts"][0]
    rows = ["AABBAAAA", "ABBBBAAA", "BBAABBAA", "BAAAABBA", "AAAAAABB", "AAAAAAAA", "ABABABAB", "BABABABA"]
    script["chart"] = {"width": 8, "rows": rows}
    script["yarns"] = [{"key": "A", "name": "oat", "colour": "#f0e6d0"}, {"key": "B", "name": "moss", "colour": None}]
    leg = next(section for section in script["sections"] if section["key"] == "leg")
    leg["needles"] = "Needle 1: 34; needle 2: 34"
    for number in range(8):
        told = {**script["instructions"][script["rounds"][leg["first"]]], "chart_row": number + 1}
        told["chart_from"] = [1, 5, 5, None][number % 4]
        told |= {"colours": {"A": 62 - number, "B": 6 + number}, "stitches": {"heel": 34, "instep": 34}}
        script["instructions"].append(told)
        script["rounds"][leg["first"] + number] = len(script["instructions"]) - 1


def steps(data: dict[str, Any]) -> None:
    """Have the third round worked by hand: once, three times, once."""
    script = data["scripts"][0]
    parts = [("Cut the yarn.", 1), ("Front needle purlwise, back needle knitwise.", 3), ("Draw the yarn in.", 1)]
    told = {**script["instructions"][script["rounds"][2]], "parts": [{"text": text, "times": n} for text, n in parts]}
    script["instructions"].append(told)
    script["rounds"][2] = len(script["instructions"]) - 1


def two_at_a_time(data: dict[str, Any]) -> None:
    """Have both socks on the needles."""
    data["two_at_a_time"] = True


def photo(width: int, height: int) -> FilePayload:
    """A picture as large as a camera's, that does not compress to nothing."""
    noise = Image.frombytes(
        "RGB", (width // 8, height // 8), random.Random(1).randbytes(width // 8 * (height // 8) * 3)
    )
    body = io.BytesIO()
    noise.resize((width, height)).save(body, "JPEG")
    return {"name": "heel.jpg", "mimeType": "image/jpeg", "buffer": body.getvalue()}
