"""A newer version of the pages: what is open goes on, everything opens by it, and nothing that is kept is lost."""

from __future__ import annotations

import shutil
from pathlib import Path

from playwright.sync_api import Page, expect

from companion.on_phone.runtime import installed
from companion.resources import STATIC

from ...on_phone import RUNTIME
from ..conftest import NewPhone
from ..knitting import Knitting, until
from ..server import Server
from .calculating import KEEP_CHECK, fetch_runtime
from .test_kept_pages import is_kept, plan_is_whole
from .test_runtime_kept import HERE, MODULE, whole

NOWHERE = "/runtime/0000000000000000/code.zip"

RENEWED = f"""async () => {{
    {MODULE}
    const there = JSON.stringify(await offered());
    while (JSON.stringify(await runtimeHere()) !== there) await new Promise((later) => setTimeout(later, 50));
}}"""
"""Waits until what is here is what the server has."""
REPLACE = f"""async (address) => {{
    {MODULE}
    const here = await runtimeHere();
    const other = {{ ...here, files: {{ ...here.files, "code.zip": address ?? here.files["pyodide-lock.json"] }} }};
    const failed = await keepRuntime(other).then(() => false, () => true);
    const cached = (await (await caches.open(CACHE)).keys()).map(({{ url }}) => new URL(url).pathname);
    const now = await runtimeHere();
    return {{ failed, stayed: now.files["code.zip"] === here.files["code.zip"],
              old: cached.includes(here.files["code.zip"]) }};
}}"""


def updated(server: Server, folder: Path) -> None:
    """Start the server again as another version: one more line in a file that every page has."""
    static = folder / "static"
    shutil.copytree(STATIC, static)
    with (static / "css/lib/base.css").open("a") as style:
        style.write("/* newer */")
    server.kill()
    server.static = static
    server.start()


def newer_worker_takes_over(page: Page) -> None:
    """Wait until pages are answered by the worker of the newer version. The page begins as one of the older."""
    page.goto("/")
    until(page, "caches.keys().then((names) => names.filter((name) => name !== 'runtime').length === 2)")
    until(page, "navigator.serviceWorker.getRegistration().then(({ installing }) => !installing)")
    page.reload()
    until(page, "navigator.serviceWorker.getRegistration().then(({ waiting }) => !waiting)")


def counts_on(running: Knitting) -> None:
    """A page that was open before the update works as ever."""
    running.count(2)
    running.page.get_by_role("button", name="Note", exact=True).tap()
    running.page.get_by_role("button", name="Cancel").tap()
    running.everything_is_sent()


def fetches_and_stays_whole(page: Page) -> None:
    """Get what a phone calculates with; another that cannot be fetched does not take its place."""
    fetch_runtime(page)
    page.context.set_offline(True)
    assert page.evaluate(REPLACE, NOWHERE) == {"failed": True, "stayed": True, "old": True}
    page.context.set_offline(False)
    whole(page, page.evaluate(HERE))


def is_replaced(page: Page) -> None:
    """Another one takes its place, and nothing of the old one stays. The next page fetches the one of the server."""
    whole(page, page.evaluate(HERE))
    assert page.evaluate(REPLACE) == {"failed": False, "stayed": False, "old": False}
    page.reload()
    page.evaluate(RENEWED)
    whole(page, page.evaluate(HERE))


def test_an_update_leaves_an_open_page_alone_opens_everything_afterwards_and_loses_nothing(
    new_phone: NewPhone, own_calculating: Server, tmp_path: Path
) -> None:
    """Where the Python for browsers is here, that is not lost either."""
    calculates = installed(RUNTIME)
    server, link = own_calculating, own_calculating.add_pair()
    page = new_phone(server)
    context, path = page.context, f"/pair/{link}"
    running = Knitting(context.new_page(), link).open()
    [first] = is_kept(running.page, path)
    page.goto("/")
    if calculates:
        fetches_and_stays_whole(page)

    # A check that waits for a network outlives the update.
    running.everything_is_sent()
    running.page.route("**/log", lambda route: route.abort())  # another page is to send the check
    server.kill()
    page.evaluate(KEEP_CHECK, [link, 0])
    updated(server, tmp_path)
    newer_worker_takes_over(page)
    expect(page.locator(".pair-waiting").first).to_have_text("")
    assert [entry.kind for entry in server.entries(link)] == ["check"]
    if calculates:
        is_replaced(page)

    assert len(is_kept(page, path)) == 2
    running.page.unroute("**/log")
    counts_on(running)
    context.set_offline(True)
    running.count(1)
    page.goto(path)
    plan_is_whole(page)
    assert first.removeprefix("tapeline-") not in page.content()
    running.page.reload()
    running.is_at(3)
    assert first.removeprefix("tapeline-") not in running.page.content()
    assert server.counted(link) == [0, 1, 2]
