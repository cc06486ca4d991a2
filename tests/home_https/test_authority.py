"""The authority of a house: what it vouches for, and what nobody takes from it. OpenSSL and Python's `ssl` judge."""

from __future__ import annotations

import socket
import ssl
import stat
import threading
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from cryptography import x509

from companion.home_https.authority import (
    AUTHORITY_FILE,
    SERVER_FILE,
    Authority,
    _keep,
    _made_certificate,
    authority_in,
    certificate_in,
    vouches_for,
)

NOW = datetime.now(UTC).replace(microsecond=0)


@pytest.fixture
def authority(tmp_path: Path) -> Authority:
    return authority_in(tmp_path, "ada", NOW)


def names_of(kept: Path) -> list[str]:
    certificate = x509.load_pem_x509_certificate(kept.read_bytes())
    found = certificate.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    return [str(each.value) for each in found]


def refusal(authority: Authority, kept: Path, name: str) -> str | None:
    """What a client says of a server with this certificate that it asks for by this name; None where it takes it."""
    serving = ssl.create_default_context(ssl.Purpose.CLIENT_AUTH)
    serving.load_cert_chain(kept)
    asking = ssl.create_default_context(cadata=authority.handed_out())
    ours, theirs = socket.socketpair()

    def serve() -> None:
        try:
            serving.wrap_socket(theirs, server_side=True).close()
        except OSError:
            theirs.close()

    thread = threading.Thread(target=serve)
    thread.start()
    try:
        asking.wrap_socket(ours, server_hostname=name).close()
    except ssl.SSLCertVerificationError as error:
        return str(error.verify_message)
    finally:
        ours.close()
        thread.join()
    return None


def test_a_phone_that_trusts_it_takes_its_name_and_its_address(tmp_path: Path, authority: Authority) -> None:
    kept = certificate_in(tmp_path, authority, ["ada.local", "192.168.1.5"], NOW)
    assert refusal(authority, kept, "ada.local") is None
    assert refusal(authority, kept, "192.168.1.5") is None
    assert "mismatch" in (refusal(authority, kept, "eve.local") or "")


@pytest.mark.parametrize("name", ["bank.example", "ada.local.example", "local"])
def test_it_vouches_for_no_name_of_the_internet(tmp_path: Path, authority: Authority, name: str) -> None:
    assert names_of(certificate_in(tmp_path, authority, ["ada.local", name], NOW)) == ["ada.local"]
    assert not vouches_for(name)


@pytest.mark.parametrize("number", ["192.0.2.7", "8.8.8.8", "127.0.0.1", "2001:db8::1", "172.32.0.1"])
def test_it_vouches_for_no_address_of_the_internet(tmp_path: Path, authority: Authority, number: str) -> None:
    assert names_of(certificate_in(tmp_path, authority, ["ada.local", number], NOW)) == ["ada.local"]


def test_a_stolen_key_opens_no_other_site(tmp_path: Path, authority: Authority) -> None:
    """The name constraint (RFC 5280, 4.2.1.10) is the client's to keep; OpenSSL does."""
    certificate, key = _made_certificate(authority, [x509.DNSName("bank.example")], NOW)
    forged = tmp_path / "forged.pem"
    _keep(forged, key, certificate, authority.certificate)
    assert refusal(authority, forged, "bank.example") == "permitted subtree violation"


def test_keys_are_for_their_owner_alone(tmp_path: Path, authority: Authority) -> None:
    certificate_in(tmp_path, authority, ["ada.local"], NOW)
    modes = {path.name: stat.S_IMODE(path.stat().st_mode) for path in tmp_path.iterdir()}
    assert modes == {AUTHORITY_FILE: 0o600, SERVER_FILE: 0o600}


def test_the_authority_stays_the_one_that_phones_trust(tmp_path: Path, authority: Authority) -> None:
    later = authority_in(tmp_path, "another name", NOW + timedelta(days=3000))
    assert later.handed_out() == authority.handed_out()
    assert b"PRIVATE" not in authority.handed_out()


def test_a_certificate_is_short_enough_for_browsers_and_renewed_in_time(tmp_path: Path, authority: Authority) -> None:
    """At most 398 days: CA/Browser Forum Baseline Requirements, 6.3.2."""
    kept = certificate_in(tmp_path, authority, ["ada.local"], NOW)
    first = x509.load_pem_x509_certificate(kept.read_bytes())
    assert first.not_valid_after_utc - first.not_valid_before_utc <= timedelta(days=397)
    for days, renewed in ((300, False), (367, True)):
        certificate_in(tmp_path, authority, ["ada.local"], NOW + timedelta(days=days))
        again = x509.load_pem_x509_certificate(kept.read_bytes())
        assert (again.serial_number != first.serial_number) is renewed, days
    assert again.not_valid_after_utc > NOW + timedelta(days=700)


def test_another_address_has_another_certificate(tmp_path: Path, authority: Authority) -> None:
    certificate_in(tmp_path, authority, ["ada.local", "192.168.1.5"], NOW)
    kept = certificate_in(tmp_path, authority, ["ada.local", "10.0.0.9"], NOW)
    assert names_of(kept) == ["10.0.0.9", "ada.local"]


def test_a_certificate_of_another_authority_is_made_anew(tmp_path: Path, authority: Authority) -> None:
    kept = certificate_in(tmp_path, authority, ["ada.local"], NOW)
    (tmp_path / AUTHORITY_FILE).unlink()
    other = authority_in(tmp_path, "ada", NOW)
    assert refusal(other, kept, "ada.local") is not None
    assert refusal(other, certificate_in(tmp_path, other, ["ada.local"], NOW), "ada.local") is None


def test_a_damaged_authority_is_told_and_left_where_it_is(tmp_path: Path, authority: Authority) -> None:
    """It is never made anew unasked: every phone would have to trust another one."""
    kept = tmp_path / AUTHORITY_FILE
    damaged = kept.read_bytes()[:200]
    kept.write_bytes(damaged)
    with pytest.raises(ValueError, match=r"PEM|data|key"):
        authority_in(tmp_path, "ada", NOW)
    assert kept.read_bytes() == damaged
    assert authority.fingerprint.count(" ") == 31
