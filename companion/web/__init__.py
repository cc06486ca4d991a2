"""The web part: pages, forms and JSON endpoints over the planning and the store."""

from __future__ import annotations

import re
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from .. import remarks, resources
from ..planning.units import show_length, show_number
from ..store import Store
from . import (
    accepting,
    assets,
    checks,
    compression,
    designs,
    fit_page,
    following,
    group,
    joining,
    pages,
    pair_files,
    patterns,
    photos,
    plans,
    samples,
    second,
    security,
    size_grids,
    sync,
    yarn_page,
)
from .days import day_words
from .security import QuietFlask

REMARK_LIMITS = {
    "data-most-cm": remarks.MOST_CM,
    "data-most-grams": remarks.MOST_GRAMS,
    "data-most-letters": remarks.MOST_LETTERS,
}
"""What may be written down while knitting, for the pages that write it down also without network."""

_INSIDE_A_LENGTH = re.compile(r"(?<=\d) (?=\d/\d|cm\b|in\b|mm\b|m\b|g\b|%)")


def unbroken(sentence: str) -> str:
    """A sentence whose lengths, weights and parts stay on one line: no-break spaces in "7 1/2 in", "8 g", "10 %"."""
    return _INSIDE_A_LENGTH.sub("\u00a0", sentence)


def create_app(config: Mapping[str, Any]) -> QuietFlask:
    """The app. `config` needs DATABASE, the path of the SQLite file.

    PUBLIC_URL is what QR codes and links to copy begin with; without it, the address of each request.
    CLOCK is a function that gives the present moment. The store is in `app.extensions["store"]`, to be closed
    when the app is done.
    """
    app = QuietFlask(__name__, static_folder=None, template_folder=resources.TEMPLATES)
    app.config.from_mapping(PUBLIC_URL=None)
    app.config.from_mapping(config)
    store = Store(Path(app.config["DATABASE"]), *([config["CLOCK"]] if "CLOCK" in config else []))
    app.extensions["store"] = store
    app.config["SECRET_KEY"] = store.secret_key()
    app.jinja_env.globals.update(
        show_length=show_length, show_number=show_number, day_words=day_words, remark_limits=REMARK_LIMITS
    )
    public_url: str = app.config["PUBLIC_URL"] or ""
    # Where workers, and with them times without network, are allowed.
    app.jinja_env.globals["https_address"] = public_url if public_url.startswith("https://") else None
    app.jinja_env.filters["unbroken"] = unbroken
    security.init_app(app)
    compression.init_app(app)
    assets.init_app(app, resources.STATIC, resources.TEMPLATES)
    samples.init_app(app, resources.SAMPLE_PROJECTS)
    for part in (
        pages,
        plans,
        checks,
        accepting,
        sync,
        designs,
        joining,
        following,
        fit_page,
        group,
        pair_files,
        patterns,
        second,
        photos,
        size_grids,
        yarn_page,
    ):
        app.register_blueprint(part.pages)
    return app
