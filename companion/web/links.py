"""A pair's link: what opens it, and what nobody can guess."""

from __future__ import annotations

import base64
import hashlib
import re
import secrets

from flask import current_app, request, url_for

LINK_BYTES = 16
"""128 random bits. At a thousand guesses a second, a hit among a million pairs is due in some 10^22 years."""

LINK = "[A-Za-z0-9_-]{21}[AQgw]"
"""What a link looks like. Its last character holds two bits."""


def new_link() -> str:
    """A fresh link of 22 URL-safe characters."""
    return secrets.token_urlsafe(LINK_BYTES)


def is_link(text: str) -> bool:
    """Whether this is a link as `new_link` makes them: 16 bytes in base64url (RFC 4648, section 5), the only way."""
    return bool(re.fullmatch(LINK, text))


def follower_link(leader_link: str) -> str:
    """The follower's link of a design, calculated from the leader's; there is no way back.

    So the leader's page can show it, though the store keeps hashes alone.
    """
    return _derived(b"follower of ", leader_link)


def mark_of(link: str) -> str:
    """What tells a pair from others without opening it: calculated from its link, and there is no way back."""
    return _derived(b"mark of ", link)


def _derived(use: bytes, link: str) -> str:
    digest = hashlib.sha256(use + link.encode("utf-8", "surrogatepass")).digest()
    return base64.urlsafe_b64encode(digest[:LINK_BYTES]).rstrip(b"=").decode()


def address_of(endpoint: str, link: str) -> str:
    """The whole address of a pair's page as other devices reach it."""
    return whole_address(url_for(endpoint, link=link))


def whole_address(path: str) -> str:
    """A path of this server with what other devices reach it by."""
    base: str = current_app.config["PUBLIC_URL"] or request.host_url
    return base.rstrip("/") + path
