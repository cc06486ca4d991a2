"""A few lines that invite to a group, to be pasted into a message."""

from __future__ import annotations

from linkify_it import LinkifyIt  # type: ignore[import-untyped]

from companion.group.invitation import invitation
from companion.planning.plan.design import Design

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
