"""The app for a WSGI server that is not ours, with its settings in the environment.

    TAPELINE_DATA=/var/lib/tapeline TAPELINE_PUBLIC_URL=https://socks.example \\
        gunicorn --workers 2 --threads 4 "companion.wsgi:app()"

TAPELINE_DATA is the folder of the pairs (default: the usual one), or TAPELINE_DATABASE the address of a PostgreSQL
database; TAPELINE_PUBLIC_URL is what QR codes begin with, and with TAPELINE_LOG=1 each request is a line of JSON on the
standard error. Several workers may share either; what is made from one address in an hour is counted by each of them,
so that N of them let through up to N times as much.
They are not to be forked from one that has made the app (no `--preload`).

To upgrade without a gap, install the new version and send USR2 to the first process, which starts a second one beside
it, then TERM to the first (gunicorn's manual, “Upgrading to a new binary on the fly”); for settings alone HUP will do.
"""

from __future__ import annotations

import argparse
import os
from collections.abc import Mapping
from pathlib import Path

from flask import Flask

from .cli.data_folder import chosen_folder
from .cli.database import chosen_database
from .cli.serve import hosts_of, print_request, public_url
from .on_phone.runtime import FOLDER as RUNTIME
from .store.file.privacy import make_private_folder
from .web import create_app


def app(environment: Mapping[str, str] = os.environ) -> Flask:
    """The app for these settings.

    Raises CannotServeError for an address that is none, also of a database, OSError where the folder cannot be made,
    StoreError where what is kept cannot be used.
    """
    named = environment.get("TAPELINE_DATA")
    arguments = argparse.Namespace(data=Path(named) if named else None)
    kept_in = chosen_database(arguments, environment)
    if isinstance(kept_in, Path):
        make_private_folder(kept_in.parent)
    given = environment.get("TAPELINE_PUBLIC_URL")
    address = public_url(given) if given else None
    return create_app(
        {
            "DATABASE": kept_in,
            "RUNTIME": chosen_folder(arguments) / RUNTIME,
            "PUBLIC_URL": address,
            "HOSTS": hosts_of(address, "") if address else None,
            "REQUEST_LOG": [print_request] if environment.get("TAPELINE_LOG") == "1" else [],
        }
    )
