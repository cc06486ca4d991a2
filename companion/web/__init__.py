"""The web part: pages, forms and JSON endpoints over the planning and the store."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from .. import resources
from ..pair import remarks
from ..store import Store
from ..words import add_words
from . import deleting, https_guide, plan_code, samples, what_was_done
from .group import follower, join, leader, overview, photos, size_grids
from .group.lifecycle import announcing, design_links, ending, recovery, reveal
from .group.lifecycle import files as design_files
from .pair import (
    check,
    copies,
    files,
    on_phone,
    pages,
    patterns,
    plans,
    sample_pages,
    sync,
    yarn,
)
from .pair.changing import accept, change, proposals, second_sock, try_on
from .server import assets, compression, health, quotas, request_log, security, unchanged
from .server.security import QuietFlask

SERVER = (deleting, plan_code, health, https_guide)
PAIR = (
    *(pages, sample_pages, plans, files, copies, patterns, sync, on_phone, yarn),
    *(check, accept, change, proposals, second_sock, try_on),
)
GROUP = (
    *(leader, join, follower, overview, photos, size_grids),
    *(announcing, design_links, ending, recovery, reveal, design_files),
)
"""The modules that have pages, each with a blueprint `bp`."""


def create_app(config: Mapping[str, Any]) -> QuietFlask:
    """The app. `config` needs DATABASE, the path of the SQLite file or the address of a PostgreSQL database.

    PUBLIC_URL is what QR codes and links to copy begin with; without it, the address of each request.
    AUTHORITY is what phones in the house are asked to trust for https; without it, nothing.
    REQUEST_LOG has functions that are called for each request; without them, no request is logged.
    RUNTIME is the folder with the Python for browsers; without it, phones are not offered to calculate by themselves.
    HOSTS are the names and addresses that requests may be for; without them, any.
    QUOTAS is whether it is counted how much comes from one address in an hour.
    CLOCK is a function that gives the present moment. The store is in `app.extensions["store"]`, to be closed
    when the app is done.
    """
    app = QuietFlask(__name__, static_folder=None, template_folder=resources.TEMPLATES)
    app.config.from_mapping(PUBLIC_URL=None, HOSTS=None, QUOTAS=True, AUTHORITY=None, REQUEST_LOG=(), RUNTIME=None)
    app.config.from_mapping(config)
    if app.config["REQUEST_LOG"]:
        request_log.init_app(app, app.config["REQUEST_LOG"])
    _open_store(app)
    _give_to_templates(app)
    for part in (security, quotas, compression, unchanged, what_was_done):
        part.init_app(app)
    assets.init_app(app, resources.STATIC, resources.TEMPLATES)
    copies.init_app(app)
    on_phone.init_app(app)
    samples.init_app(app, resources.SAMPLE_PROJECTS)
    for part in (*SERVER, *PAIR, *GROUP):
        app.register_blueprint(part.bp)
    return app


def _open_store(app: QuietFlask) -> None:
    store = Store(app.config["DATABASE"], *([app.config["CLOCK"]] if "CLOCK" in app.config else []))
    app.extensions["store"] = store
    app.config["SECRET_KEY"] = store.secret_key()
    store.epoch()  # is there before the first page is named by it


def _give_to_templates(app: QuietFlask) -> None:
    add_words(app.jinja_env)
    public_url: str = app.config["PUBLIC_URL"] or ""
    app.jinja_env.globals |= {
        "remark_limits": remarks.LIMITS,
        # Where workers, and with them times without network, are allowed.
        "https_address": public_url if public_url.startswith("https://") else None,
        "https_guide": app.config["AUTHORITY"] is not None,
    }
