"""A few lines that invite to a group, to be pasted into a message."""

from __future__ import annotations

from linkify_it import LinkifyIt  # type: ignore[import-untyped]

from companion.planning.plan.design import Design
from companion.web.group.invitation import invitation
from companion.web.links import follower_link

from ...conftest import Browser
from ..designing import lead

STAGES = [
    {"name": "Heel done", "until": "heel", "by": "2025-11-16"},
    {"name": "Leg done", "until": "leg", "by": "2025-11-09"},
]


def test_an_invitation_says_what_by_whom_and_until_when_and_ends_with_the_link() -> None:
    url = "https://socks.example/join/" + "A" * 22
    design = Design.model_validate({"title": "Larch and moss", "leader": "Wiebke", "stages": STAGES})
    text = invitation(design, url)
    assert text.split("\n") == [
        "Larch and moss, with Wiebke",
        "Leg done: by Sun 9 Nov 2025",
        "Heel done: by Sun 16 Nov 2025",
        "Your foot and your gauge make your own plan for this sock:",
        url,
    ]
    found = LinkifyIt().match(text)  # as messengers find links in a text
    assert found
    assert [one.url for one in found] == [url]


def test_the_leaders_page_has_it_to_copy(browser: Browser) -> None:
    leader = lead(browser)
    page = browser.get(f"/design/{leader}").text
    assert f'make your own plan for this sock:\nhttp://localhost/join/{follower_link(leader)}">' in page
