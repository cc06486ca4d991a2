"""Files for a server with a name on the open internet, filled in: a proxy that speaks https, a service, a container."""

from __future__ import annotations

import argparse
import re
import shutil
import sys
from collections.abc import Mapping
from pathlib import Path

from .plans import FaultyInputError

_LABEL = "[a-z0-9]([a-z0-9-]{0,61}[a-z0-9])?"
_NAME = re.compile(rf"(?=.{{1,253}}$)({_LABEL}\.)+{_LABEL}", re.IGNORECASE)
"""The name of a host (RFC 1123, section 2.1), with a dot, as names on the internet have one."""

CADDY = """\
# /etc/caddy/Caddyfile (package caddy). It gets and renews the certificate for the name by itself.
{name} {{
	reverse_proxy 127.0.0.1:{port}
}}
"""

SYSTEMD = """\
# /etc/systemd/system/tapeline.service
# Then: systemctl daemon-reload && systemctl enable --now tapeline
# The pairs are kept in /var/lib/tapeline, and only this service can read them.
[Unit]
Description=Tapeline, the sock companion
After=network.target

[Service]
ExecStart={companion} serve --local --port {port} --data /var/lib/tapeline --public-url https://{name}
DynamicUser=yes
StateDirectory=tapeline
StateDirectoryMode=0700
Restart=on-failure
NoNewPrivileges=yes
CapabilityBoundingSet=
ProtectSystem=strict
ProtectHome=read-only
PrivateTmp=yes
PrivateDevices=yes
ProtectKernelTunables=yes
ProtectKernelModules=yes
ProtectControlGroups=yes
RestrictAddressFamilies=AF_INET AF_INET6 AF_UNIX
RestrictNamespaces=yes
LockPersonality=yes
SystemCallArchitectures=native

[Install]
WantedBy=multi-user.target
"""

CONTAINER = """\
# Containerfile, in the folder of the README. To build, and to run beside a proxy on the same computer:
#   podman build -t tapeline .
#   podman run --network host --volume tapeline:/data --restart unless-stopped tapeline
# With a network of its own the proxy would not be believed that it was asked over https.
FROM docker.io/library/python:3.13-slim
COPY . /src
RUN pip install --no-cache-dir --require-hashes -r /src/.ci/requirements.txt \\
 && pip install --no-cache-dir --no-deps /src \\
 && rm -r /src \\
 && useradd --system tapeline \\
 && install --directory --owner tapeline --mode 0700 /data
USER tapeline
VOLUME /data
CMD ["companion", "serve", "--local", "--port", "{port}", "--data", "/data", "--public-url", "https://{name}"]
"""

FILES: Mapping[str, str] = {"caddy": CADDY, "systemd": SYSTEMD, "container": CONTAINER}
"""What `companion deploy` prints, by its word."""


def deploy(arguments: argparse.Namespace) -> str:
    """The file asked for, filled in.

    Raises FaultyInputError for a name that no server on the internet has, or a port that there is not.
    """
    if not _NAME.fullmatch(arguments.name):
        raise FaultyInputError([f"{arguments.name!r} given; write the name of the server, like socks.example"])
    if not 1 <= arguments.port <= 65535:
        raise FaultyInputError([f"--port: {arguments.port} given; allowed: 1 to 65535"])
    values = {"name": arguments.name.lower(), "port": arguments.port, "companion": _own_command()}
    return FILES[arguments.file].format(**values).rstrip("\n")


def _own_command() -> Path:
    """The command as a service finds it: beside the Python that runs now, or else on the path."""
    beside = Path(sys.executable).with_name("companion")
    found = shutil.which("companion")
    return beside if beside.exists() or found is None else Path(found).absolute()
