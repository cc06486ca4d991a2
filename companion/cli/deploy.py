"""Files for a server with a name on the open internet, filled in: a proxy that speaks https, a service, a container.

With a database there are two servers on it, on neighbouring ports, so that one answers while the other one is upgraded.
"""

from __future__ import annotations

import argparse
import re
import shutil
import sys
from collections.abc import Mapping
from pathlib import Path

from .database import checked_address
from .output import CannotServeError
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

CADDY_FOR_TWO = """\
# /etc/caddy/Caddyfile (package caddy). It gets and renews the certificate for the name by itself.
# A knitter's requests go to one of the two servers for as long as that answers, and to the other one while it does not.
{name} {{
	reverse_proxy 127.0.0.1:{port} 127.0.0.1:{next_port} {{
		lb_policy ip_hash
		lb_try_duration 10s
		lb_try_interval 100ms
		fail_duration 1s
	}}
}}
"""

SYSTEMD_FOR_TWO = """\
# /etc/systemd/system/tapeline@.service, for two servers on one database, on their ports
# Then: systemctl daemon-reload && systemctl enable --now tapeline@{port} tapeline@{next_port}
# To upgrade without a gap, install the new version, then one after the other:
#   systemctl restart tapeline@{port} && sleep 10 && systemctl restart tapeline@{next_port}
# The password is in /etc/tapeline/pgpass, readable for root alone, in a line like
#   db.example:5432:tapeline:tapeline:PASSWORD    (postgresql.org/docs/current/libpq-pgpass.html)
[Unit]
Description=Tapeline, the sock companion, on port %i
After=network.target postgresql.service

[Service]
ExecStart={companion} serve --local --port %i --database {database} --public-url https://{name}
LoadCredential=pgpass:/etc/tapeline/pgpass
Environment=PGPASSFILE=%d/pgpass
DynamicUser=yes
"""

CONTAINER_FOR_TWO = """\
# Containerfile, in the folder of the README. To build, and to run two beside a proxy on the same computer:
#   podman build -t tapeline .
#   for port in {port} {next_port}; do
#     podman run --detach --network host --restart unless-stopped --secret pgpass,uid=999,mode=0400 tapeline $port
#   done
# with the password in a secret: podman secret create pgpass FILE (postgresql.org/docs/current/libpq-pgpass.html).
FROM docker.io/library/python:3.13-slim
COPY . /src
RUN pip install --no-cache-dir --require-hashes -r /src/.ci/requirements-postgresql.txt \\
 && pip install --no-cache-dir --no-deps /src \\
 && rm -r /src \\
 && useradd --system --uid 999 tapeline
USER tapeline
ENV PGPASSFILE=/run/secrets/pgpass
ENTRYPOINT ["companion", "serve", "--local", "--database", "{database}", "--public-url", "https://{name}", "--port"]
CMD ["{port}"]
"""

FILES: Mapping[str, str] = {"caddy": CADDY, "systemd": SYSTEMD, "container": CONTAINER}
"""What `companion deploy` prints, by its word."""

FILES_FOR_TWO: Mapping[str, str] = {
    "caddy": CADDY_FOR_TWO,
    "systemd": SYSTEMD_FOR_TWO + SYSTEMD.partition("StateDirectoryMode=0700\n")[2],
    "container": CONTAINER_FOR_TWO,
}
"""The same for two servers on one database."""


def deploy(arguments: argparse.Namespace) -> str:
    """The file asked for, filled in.

    Raises FaultyInputError for a name that no server on the internet has, or a port that there is not.
    """
    if not _NAME.fullmatch(arguments.name):
        raise FaultyInputError([f"{arguments.name!r} given; write the name of the server, like socks.example"])
    files = FILES_FOR_TWO if arguments.database else FILES
    last = 65535 - bool(arguments.database)
    if not 1 <= arguments.port <= last:
        raise FaultyInputError([f"--port: {arguments.port} given; allowed: 1 to {last}"])
    values = {
        "name": arguments.name.lower(),
        "port": arguments.port,
        "next_port": arguments.port + 1,
        "companion": _own_command(),
        "database": _address(arguments.database),
    }
    return files[arguments.file].format(**values).rstrip("\n")


def _address(given: str | None) -> str:
    """The address of a database as it can stand in each of the files."""
    if given is None:
        return ""
    try:
        address = checked_address(given, "--database")
    except CannotServeError as error:
        raise FaultyInputError([str(error)]) from error
    if not (address.isascii() and address.isprintable()) or set(address) & set(" \"'\\{}%$"):
        raise FaultyInputError(["--database: the address has a sign that these files cannot have; leave it out"])
    return address


def _own_command() -> Path:
    """The command as a service finds it: beside the Python that runs now, or else on the path."""
    beside = Path(sys.executable).with_name("companion")
    found = shutil.which("companion")
    return beside if beside.exists() or found is None else Path(found).absolute()
