"""The authority of a house, and the certificate that it gives this computer.

X.509 after RFC 5280: the names that it may vouch for are a critical name constraint (4.2.1.10), so that a key that is
stolen opens no bank.
"""

from __future__ import annotations

import os
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta
from ipaddress import IPv4Address, IPv6Address, ip_address, ip_network
from pathlib import Path
from typing import TypeAlias

from cryptography import x509
from cryptography.exceptions import InvalidSignature
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID

from ..store.file.privacy import PRIVATE_FILE, hand_over

AUTHORITY_FILE, SERVER_FILE = "https-authority.pem", "https-server.pem"
"""Key and certificate each, in the folder of the data."""

HOUSE_DOMAINS = ("local", "home.arpa")
"""Names within one network: RFC 6762 (multicast DNS) and RFC 8375."""

HOUSE_NETWORKS = tuple(
    map(ip_network, ("10.0.0.0/8", "172.16.0.0/12", "192.168.0.0/16", "169.254.0.0/16", "fc00::/7", "fe80::/10"))
)
"""Addresses within one network: RFC 1918, RFC 3927, RFC 4193 and RFC 4291."""

AUTHORITY_FOR = timedelta(days=3650)
"""How long a phone trusts: ten years. Ours: it is made for one computer, which seldom lasts longer."""

LONGEST = timedelta(days=397)
"""Browsers take no certificate for a server that is good for more than 398 days (CA/Browser Forum, 6.3.2)."""

RENEWED_WITH = timedelta(days=30)
"""What is left of a certificate when the next one is made."""

SKEW = timedelta(days=1)
"""A phone's clock may be behind: certificates begin a day ago."""

Address: TypeAlias = IPv4Address | IPv6Address


@dataclass(frozen=True)
class Authority:
    """A certificate that vouches for others, and the key that it signs them with."""

    certificate: x509.Certificate
    key: ec.EllipticCurvePrivateKey

    @property
    def fingerprint(self) -> str:
        """The SHA-256 of the certificate as phones show it: "3F 0A …"."""
        return self.certificate.fingerprint(hashes.SHA256()).hex(" ").upper()

    def handed_out(self) -> bytes:
        """The certificate as phones take it in (DER)."""
        return self.certificate.public_bytes(serialization.Encoding.DER)


def authority_in(data: Path, computer: str, now: datetime) -> Authority:
    """The authority kept in a folder of data, made for this computer where there is none or its time is over.

    Raises OSError where it cannot be read or kept, ValueError where a file is not what it was.
    """
    kept = data / AUTHORITY_FILE
    if kept.exists():
        certificate = x509.load_pem_x509_certificate(kept.read_bytes())
        key = serialization.load_pem_private_key(kept.read_bytes(), password=None)
        if not isinstance(key, ec.EllipticCurvePrivateKey) or key.public_key() != certificate.public_key():
            raise ValueError(f"{kept} has another key than its certificate")
        if now < certificate.not_valid_after_utc - LONGEST:
            return Authority(certificate, key)
    made = _made_authority(computer, now)
    _keep(kept, made.key, made.certificate)
    return made


def certificate_in(data: Path, authority: Authority, names: Iterable[str], now: datetime) -> Path:
    """The file with this computer's certificate for these names and addresses, and its key.

    It is made again where it is for others or runs out. Names that the authority cannot vouch for are left out. Raises
    as `authority_in` does.
    """
    kept = data / SERVER_FILE
    wanted = _vouched_for(names)
    if not (kept.exists() and _is_good(kept, authority, wanted, now)):
        certificate, key = _made_certificate(authority, wanted, now)
        _keep(kept, key, certificate, authority.certificate)
    return kept


def vouches_for(name: str) -> bool:
    """Whether the authority of a house can vouch for a name or an address."""
    return bool(_vouched_for([name]))


def _keep(path: Path, key: ec.EllipticCurvePrivateKey, *chain: x509.Certificate) -> None:
    """Write a key with its certificate and those above it, as one file, so that they always belong together."""
    pem = serialization.Encoding.PEM
    secret = key.private_bytes(pem, serialization.PrivateFormat.PKCS8, serialization.NoEncryption())
    # Written beside and moved there, so that no half file is ever read; private from its first byte.
    beside = path.with_suffix(".new")
    beside.unlink(missing_ok=True)
    with os.fdopen(os.open(beside, os.O_WRONLY | os.O_CREAT | os.O_EXCL, PRIVATE_FILE), "wb") as file:
        file.write(secret + b"".join(each.public_bytes(pem) for each in chain))
    hand_over(beside)
    beside.replace(path)


def _made_authority(computer: str, now: datetime) -> Authority:
    key = ec.generate_private_key(ec.SECP256R1())
    name = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, f"Tapeline at {computer}"[:64])])
    permitted = [*map(x509.DNSName, HOUSE_DOMAINS), *map(x509.IPAddress, HOUSE_NETWORKS)]
    builder = (
        _begun(name, name, key, now, AUTHORITY_FOR)
        .add_extension(x509.BasicConstraints(ca=True, path_length=0), critical=True)
        .add_extension(_usage(signs_certificates=True), critical=True)
        .add_extension(x509.NameConstraints(permitted, None), critical=True)
        .add_extension(x509.SubjectKeyIdentifier.from_public_key(key.public_key()), critical=False)
    )
    return Authority(builder.sign(key, hashes.SHA256()), key)


def _made_certificate(
    authority: Authority, wanted: list[x509.GeneralName], now: datetime
) -> tuple[x509.Certificate, ec.EllipticCurvePrivateKey]:
    key = ec.generate_private_key(ec.SECP256R1())
    name = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, "Tapeline")])
    issued_by = authority.key.public_key()
    builder = (
        _begun(name, authority.certificate.subject, key, now, LONGEST - SKEW)
        .add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
        .add_extension(_usage(signs_certificates=False), critical=True)
        .add_extension(x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH]), critical=False)
        .add_extension(x509.SubjectAlternativeName(wanted), critical=False)
        .add_extension(x509.AuthorityKeyIdentifier.from_issuer_public_key(issued_by), critical=False)
    )
    return builder.sign(authority.key, hashes.SHA256()), key


def _begun(
    name: x509.Name, issuer: x509.Name, key: ec.EllipticCurvePrivateKey, now: datetime, good_for: timedelta
) -> x509.CertificateBuilder:
    return (
        x509.CertificateBuilder()
        .subject_name(name)
        .issuer_name(issuer)
        .public_key(key.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(now - SKEW)
        .not_valid_after(now + good_for)
    )


def _usage(*, signs_certificates: bool) -> x509.KeyUsage:
    return x509.KeyUsage(
        digital_signature=not signs_certificates,
        key_cert_sign=signs_certificates,
        crl_sign=signs_certificates,
        content_commitment=False,
        key_encipherment=False,
        data_encipherment=False,
        key_agreement=False,
        encipher_only=False,
        decipher_only=False,
    )


def _address(text: str) -> Address | None:
    try:
        return ip_address(text)
    except ValueError:
        return None


def _vouched_for(names: Iterable[str]) -> list[x509.GeneralName]:
    """The names and addresses of a house among these, in an order of their own."""
    found: list[x509.GeneralName] = []
    for name in sorted(set(names)):
        address = _address(name)
        if address and any(address in network for network in HOUSE_NETWORKS):
            found.append(x509.IPAddress(address))
        elif not address and name.rpartition(".")[0] and name.endswith(tuple(f".{each}" for each in HOUSE_DOMAINS)):
            found.append(x509.DNSName(name))
    return found


def _is_good(kept: Path, authority: Authority, wanted: list[x509.GeneralName], now: datetime) -> bool:
    try:
        certificate = x509.load_pem_x509_certificate(kept.read_bytes())
        certificate.verify_directly_issued_by(authority.certificate)
        has = certificate.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    except (ValueError, TypeError, x509.ExtensionNotFound, InvalidSignature):
        return False
    return list(has) == wanted and now < certificate.not_valid_after_utc - RENEWED_WITH
