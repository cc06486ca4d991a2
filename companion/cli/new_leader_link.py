"""A new link for a design's leader who has lost hers. The operator of the server has to know that it is she."""

from __future__ import annotations

from contextlib import closing
from pathlib import Path

from ..store import Store, StoreUnavailableError
from ..web.links import is_link, new_link
from .plans import FaultyInputError


def new_leader_link(kept_in: Path | str, follower: str) -> str:
    """Put a new link in the place of a design's first leader's; returns what to tell. `follower` is how others join."""
    link = follower.rstrip("/").rpartition("/")[2]
    if not is_link(link):
        raise FaultyInputError([f"LINK: “{follower}” given; the 22 characters after /join/ are needed, or the address"])
    if isinstance(kept_in, Path) and not kept_in.exists():
        raise StoreUnavailableError(f"{kept_in} is not there; name the folder that the pairs are kept in with --data")
    leader = new_link()
    with closing(Store(kept_in)) as store:
        if not store.design_links.recover(link, leader):
            raise FaultyInputError([f"LINK: “{link}” given; no design is joined by it"])
    return (
        f"/design/{leader}\nThis path on the server opens the design for changes. Give it to its leader alone. "
        "The link that she had opens nothing any more."
    )
