"""A pair's link: what opens it, and what nobody can guess."""

from __future__ import annotations

import secrets

from flask import current_app, request, url_for

LINK_BYTES = 16
"""128 random bits. At a thousand guesses a second, a hit among a million pairs is due in some 10^22 years."""


def new_link() -> str:
    """A fresh link of 22 URL-safe characters."""
    return secrets.token_urlsafe(LINK_BYTES)


def address_of(endpoint: str, link: str) -> str:
    """The whole address of a pair's page as other devices reach it."""
    base: str = current_app.config["PUBLIC_URL"] or request.host_url
    return base.rstrip("/") + url_for(endpoint, link=link)
