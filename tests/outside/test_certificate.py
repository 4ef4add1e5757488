"""The workshop's certificate before judges nobody here wrote: OpenSSL's verifier, and a TLS handshake.

Outside sources: the `openssl` program (https://docs.openssl.org), Python's ssl module (OpenSSL again, as a client),
RFC 5280 4.2.1.10 for what name constraints mean.
"""

from __future__ import annotations

import ipaddress
import shutil
import socket
import ssl
import subprocess
from datetime import UTC, datetime, timedelta
from threading import Thread

import pytest
from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID

from witnessmark.config import Settings
from witnessmark.operate import certificate

ADDRESSES = ["192.168.20.7", "10.1.2.3"]


@pytest.fixture
def settings(tmp_path) -> Settings:
    settings_made = Settings(tmp_path / "data")
    certificate.ensure(settings_made, "Reed & Daughter", ADDRESSES, ["bench.local"])
    return settings_made


def openssl(*arguments) -> subprocess.CompletedProcess:
    if not (program := shutil.which("openssl")):
        pytest.fail("The outside check needs the openssl program: install your system's openssl package.")
    return subprocess.run([program, *map(str, arguments)], capture_output=True, text=True, check=False)


def verify(settings: Settings, leaf, *more) -> subprocess.CompletedProcess:
    authority = certificate.files(settings).authority_pem
    return openssl("verify", "-x509_strict", "-purpose", "sslserver", "-CAfile", authority, *more, leaf)


@pytest.mark.parametrize(
    "address",
    [
        ("-verify_ip", "192.168.20.7"),
        ("-verify_ip", "10.1.2.3"),
        ("-verify_ip", "127.0.0.1"),
        ("-verify_hostname", "bench.local"),
        ("-verify_hostname", "localhost"),
    ],
)
def test_openssl_accepts_the_server_under_each_of_its_addresses(settings, address):
    process = verify(settings, certificate.files(settings).chain, *address)

    assert process.returncode == 0, process.stderr


@pytest.mark.parametrize(
    "address", [("-verify_ip", "192.168.20.8"), ("-verify_hostname", "bank.example"), ("-verify_hostname", "x.local")]
)
def test_openssl_refuses_it_under_any_other(settings, address):
    assert verify(settings, certificate.files(settings).chain, *address).returncode != 0


@pytest.mark.parametrize(
    "name", [x509.DNSName("bank.example"), x509.DNSName("notlocal"), x509.IPAddress(ipaddress.ip_address("8.8.8.8"))]
)
def test_were_the_authoritys_key_stolen_it_could_not_speak_for_the_world(settings, tmp_path, name):
    leaf = forged(settings, name)
    process = verify(settings, leaf)

    assert process.returncode != 0
    assert "permitted subtree violation" in process.stdout + process.stderr


def test_a_forged_name_inside_the_workshop_shows_that_the_forgery_itself_is_sound(settings):
    """So that the refusals above are due to the constraint and to nothing else."""
    assert verify(settings, forged(settings, x509.DNSName("other.local"))).returncode == 0


def test_a_client_that_trusts_the_authority_shakes_hands(settings):
    files = certificate.files(settings)
    server = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    server.load_cert_chain(files.chain, files.key)
    with socket.create_server(("127.0.0.1", 0)) as listening:

        def answer():
            wire, _ = listening.accept()
            with wire, server.wrap_socket(wire, server_side=True) as secure:
                secure.sendall(b"well")

        thread = Thread(target=answer)
        thread.start()
        client = ssl.create_default_context(cafile=str(files.authority_pem))
        with (
            socket.create_connection(listening.getsockname()) as wire,
            client.wrap_socket(wire, server_hostname="127.0.0.1") as secure,
        ):
            assert secure.recv(4) == b"well"
            assert secure.version() == "TLSv1.3"
        thread.join()


def test_it_lasts_no_longer_than_phones_accept(settings):
    leaf = x509.load_pem_x509_certificate(certificate.files(settings).chain.read_bytes())
    authority = x509.load_pem_x509_certificate(certificate.files(settings).authority_pem.read_bytes())

    assert leaf.not_valid_after_utc - leaf.not_valid_before_utc <= timedelta(days=397)
    assert authority.subject.get_attributes_for_oid(NameOID.COMMON_NAME)[0].value.startswith("Reed & Daughter")
    assert certificate.files(settings).authority.read_bytes() == authority.public_bytes(serialization.Encoding.DER)


def test_the_fingerprint_on_the_page_is_the_one_openssl_tells(settings):
    answer = openssl("x509", "-in", certificate.files(settings).authority_pem, "-noout", "-fingerprint", "-sha256")

    assert answer.stdout.split("=")[1].strip().replace(":", "") == certificate.fingerprint(settings).replace(" ", "")


def test_it_is_made_once_and_renewed_when_an_address_is_new_or_the_time_runs_out(settings, monkeypatch):
    files = certificate.files(settings)
    authority, leaf = files.authority.read_bytes(), files.chain.read_bytes()
    assert certificate.ensure(settings, "Reed & Daughter", ADDRESSES, ["bench.local"]) is False
    assert files.chain.read_bytes() == leaf

    assert certificate.ensure(settings, "Reed & Daughter", [*ADDRESSES, "192.168.99.1"], ["bench.local"]) is True
    assert verify(settings, files.chain, "-verify_ip", "192.168.99.1").returncode == 0

    class Later(datetime):
        @classmethod
        def now(cls, zone=None):
            return datetime.now(zone) + timedelta(days=370)

    renewed = files.chain.read_bytes()
    monkeypatch.setattr(certificate, "datetime", Later)
    assert certificate.ensure(settings, "Reed & Daughter", ADDRESSES, ["bench.local"]) is True
    assert files.chain.read_bytes() != renewed
    assert files.authority.read_bytes() == authority, "phones would have to be brought in again"


@pytest.mark.parametrize("lost", ["key", "authority_key", "authority"])
def test_what_a_power_cut_tore_apart_is_made_whole_again(settings, tmp_path, lost):
    """Key and certificate are two files: one of them may be newer than the other, or not there at all."""
    other = Settings(tmp_path / "other")
    certificate.ensure(other, "Reed & Daughter", ADDRESSES, ["bench.local"])
    files, foreign = certificate.files(settings), certificate.files(other)
    if lost == "authority":
        files.authority.unlink()
    else:
        getattr(files, lost).write_bytes(getattr(foreign, lost).read_bytes())

    certificate.ensure(settings, "Reed & Daughter", ADDRESSES, ["bench.local"])

    ssl.create_default_context(ssl.Purpose.CLIENT_AUTH).load_cert_chain(files.chain, files.key)
    assert verify(settings, files.chain).returncode == 0
    assert ssl.DER_cert_to_PEM_cert(files.authority.read_bytes()).strip() == files.authority_pem.read_text().strip()


def test_public_addresses_are_left_out_rather_than_refused_by_every_phone(tmp_path):
    settings = Settings(tmp_path / "data")
    certificate.ensure(settings, "Reed", ["203.0.113.9", "192.168.1.2"], ["bench.local"])

    assert verify(settings, certificate.files(settings).chain, "-verify_ip", "192.168.1.2").returncode == 0


def forged(settings: Settings, name: x509.GeneralName):
    """A certificate for `name` by a thief who holds the authority's key."""
    files = certificate.files(settings)
    authority = x509.load_pem_x509_certificate(files.authority_pem.read_bytes())
    authority_key = serialization.load_pem_private_key(files.authority_key.read_bytes(), None)
    key, now = ec.generate_private_key(ec.SECP256R1()), datetime.now(UTC)
    issuer_key = x509.AuthorityKeyIdentifier.from_issuer_public_key(authority.public_key())
    made = (
        x509.CertificateBuilder()
        .subject_name(x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, "thief")]))
        .issuer_name(authority.subject)
        .public_key(key.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(now - timedelta(hours=1))
        .not_valid_after(now + timedelta(days=30))
        .add_extension(x509.SubjectAlternativeName([name]), critical=False)
        .add_extension(x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH]), critical=False)
        .add_extension(x509.SubjectKeyIdentifier.from_public_key(key.public_key()), critical=False)
        .add_extension(issuer_key, critical=False)
        .sign(authority_key, hashes.SHA256())
    )
    path = settings.data / "forged.crt"
    path.write_bytes(made.public_bytes(serialization.Encoding.PEM))
    return path
