"""Two phones that write and send at the same time hear of each other's every entry."""

from __future__ import annotations

import pytest

from ..conftest import NewPhone
from ..knitting import Knitting
from ..modules import Modules
from ..server import Server
from .killed.test_apart import KEPT

NOTES = 40
"""Of each phone, as fast as it can: one falls between any two steps of the server's answer to the other."""

BEGIN = """([remarks, sync, link, times]) => {
    window.written = (async () => {
        const { keepRemark } = await import(remarks);
        const { exchange } = await import(sync);
        for (let note = 1; note <= times; note += 1) {
            await keepRemark(link, "note", { text: `${note}` });
            await exchange(link);
        }
    })();
}"""

HEAR = "async ([sync, link]) => (await import(sync)).exchange(link)"


@pytest.mark.usefixtures("without_worker")
def test_no_note_of_either_phone_is_missed_by_the_other(new_phone: NewPhone, server: Server, link: str) -> None:
    pages = [Knitting(new_phone(server), link).open().page for _ in range(2)]
    addresses = [Modules(page).address for page in pages]
    for page, address in zip(pages, addresses, strict=True):
        page.evaluate(BEGIN, [address("pair/remarks"), address("pair/sync"), link, NOTES])
    for page in pages:
        page.evaluate("written")
    for page, address in zip(pages, addresses, strict=True):
        page.evaluate(HEAR, [address("pair/sync"), link])
    kept = [sorted(entry["id"] for entry in page.evaluate(KEPT)[1]) for page in pages]
    assert kept[0] == kept[1] == sorted(entry.id for entry in server.entries(link))
    assert len(kept[0]) == 2 * NOTES
