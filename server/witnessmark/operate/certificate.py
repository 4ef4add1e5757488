"""The workshop's own certificate authority, and the certificate its server shows on the workshop's network.

A phone only lets the app work without signal if it trusts the server's certificate, and nobody issues public
certificates for private addresses. So each workshop has its own small authority. It is bound (name constraints,
RFC 5280, 4.2.1.10) to private addresses and to .local: were its key stolen, it could not speak for any other site.
"""

from __future__ import annotations

import fcntl
import ipaddress
import os
import socket
import struct
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path

from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID

from witnessmark.config import Settings
from witnessmark.trade.ground.sentences import say

AUTHORITY_DAYS = 3650
LEAF_DAYS = 396  # phones refuse server certificates of more than 397 days
RENEW_BEFORE = timedelta(days=30)
PRIVATE = [
    "10.0.0.0/8", "172.16.0.0/12", "192.168.0.0/16", "169.254.0.0/16", "127.0.0.0/8",
    "fc00::/7", "fe80::/10", "::1/128",
]  # fmt: skip
NAMES = ["local", "localhost"]


@dataclass(frozen=True)
class Files:
    """Where the certificate and what belongs to it lie. Keys are readable by their owner alone."""

    folder: Path

    @property
    def authority_key(self) -> Path:
        return self.folder / "authority.key"

    @property
    def authority(self) -> Path:
        """For phones and computers to install, DER."""
        return self.folder / "workshop-ca.crt"

    @property
    def authority_pem(self) -> Path:
        return self.folder / "workshop-ca.pem"

    @property
    def key(self) -> Path:
        return self.folder / "server.key"

    @property
    def chain(self) -> Path:
        """The server's certificate and the authority's, PEM."""
        return self.folder / "server.crt"

    @property
    def page(self) -> Path:
        return self.folder / "page.html"


def files(settings: Settings) -> Files:
    return Files(settings.certificate)


def ensure(settings: Settings, workshop: str, addresses: list[str], names: list[str] | None = None) -> bool:
    """Makes or renews what is missing, runs out within 30 days, or does not cover `addresses` and `names`.

    Returns True when the server has to be restarted to show it. A renewed server certificate needs nothing
    done on the phones; a new authority does, and is only made when there is none or it runs out.
    """
    issued, now = files(settings), datetime.now(UTC)
    issued.folder.mkdir(parents=True, exist_ok=True, mode=0o700)
    names = sorted({"localhost", *(names if names is not None else [local_name()])})
    addresses = sorted({"127.0.0.1", "::1", *(a for a in addresses if is_private(a))})
    authority = _load(issued.authority_pem)
    if not _fit(authority, issued.authority_key) or authority.not_valid_after_utc - now < RENEW_BEFORE:
        authority = _make_authority(issued, workshop, now)
    elif not issued.authority.exists():
        _write(issued.authority, authority.public_bytes(serialization.Encoding.DER), 0o644)
    leaf = _load(issued.chain)
    if _fit(leaf, issued.key) and _covers(leaf, authority, addresses, names, now):
        return False
    _make_leaf(issued, authority, addresses, names, now)
    return True


def fingerprint(settings: Settings) -> str:
    """SHA-256 of the authority's certificate, in groups of four hex digits, for comparing by eye."""
    text = _load(files(settings).authority_pem).fingerprint(hashes.SHA256()).hex().upper()
    return " ".join(text[at : at + 4] for at in range(0, 64, 4))


def days_left(settings: Settings) -> int | None:
    """Whole days until the server's certificate runs out; None when there is none."""
    leaf = _load(files(settings).chain)
    return (leaf.not_valid_after_utc - datetime.now(UTC)).days if leaf else None


def _make_authority(issued: Files, workshop: str, now: datetime) -> x509.Certificate:
    key = ec.generate_private_key(ec.SECP256R1())
    # The key's own digits in the name: two authorities of one workshop must not look alike in a phone's list.
    mark = x509.SubjectKeyIdentifier.from_public_key(key.public_key()).digest.hex()[:6]
    name = x509.Name([
        x509.NameAttribute(NameOID.ORGANIZATION_NAME, workshop[:60]),
        x509.NameAttribute(NameOID.COMMON_NAME, say("server.certificate.name", workshop=workshop[:40], mark=mark)),
    ])  # fmt: skip
    permitted = [x509.IPAddress(ipaddress.ip_network(n)) for n in PRIVATE] + [x509.DNSName(n) for n in NAMES]
    made = (
        _builder(name, name, key, now, AUTHORITY_DAYS)
        .add_extension(x509.BasicConstraints(ca=True, path_length=0), critical=True)
        .add_extension(_usage(signs_certificates=True), critical=True)
        .add_extension(x509.NameConstraints(permitted, None), critical=True)
        .sign(key, hashes.SHA256())
    )
    _write(issued.authority_key, _pem(key), 0o600)
    _write(issued.authority_pem, made.public_bytes(serialization.Encoding.PEM), 0o644)
    _write(issued.authority, made.public_bytes(serialization.Encoding.DER), 0o644)
    return made


def _make_leaf(
    issued: Files, authority: x509.Certificate, addresses: list[str], names: list[str], now: datetime
) -> None:
    authority_key = serialization.load_pem_private_key(issued.authority_key.read_bytes(), None)
    key = ec.generate_private_key(ec.SECP256R1())
    name = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, names[0] if names else addresses[0])])
    spoken_for = [x509.DNSName(n) for n in names] + [x509.IPAddress(ipaddress.ip_address(a)) for a in addresses]
    made = (
        _builder(name, authority.subject, key, now, LEAF_DAYS)
        .add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
        .add_extension(_usage(signs_certificates=False), critical=True)
        .add_extension(x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH]), critical=False)
        .add_extension(x509.SubjectAlternativeName(spoken_for), critical=False)
        .add_extension(x509.AuthorityKeyIdentifier.from_issuer_public_key(authority.public_key()), critical=False)
        .sign(authority_key, hashes.SHA256())
    )
    pem = serialization.Encoding.PEM
    _write(issued.key, _pem(key), 0o600)
    _write(issued.chain, made.public_bytes(pem) + authority.public_bytes(pem), 0o644)


def _builder(subject: x509.Name, issuer: x509.Name, key, now: datetime, days: int) -> x509.CertificateBuilder:
    # An hour into the past: the phones' clocks are not ours. Counted into the days.
    start = now - timedelta(hours=1)
    return (
        x509.CertificateBuilder()
        .subject_name(subject)
        .issuer_name(issuer)
        .public_key(key.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(start)
        .not_valid_after(start + timedelta(days=days))
        .add_extension(x509.SubjectKeyIdentifier.from_public_key(key.public_key()), critical=False)
    )


def _usage(signs_certificates: bool) -> x509.KeyUsage:
    return x509.KeyUsage(
        digital_signature=not signs_certificates, key_cert_sign=signs_certificates, crl_sign=signs_certificates,
        content_commitment=False, key_encipherment=False, data_encipherment=False, key_agreement=False,
        encipher_only=False, decipher_only=False,
    )  # fmt: skip


def _covers(
    leaf: x509.Certificate, authority: x509.Certificate, addresses: list[str], names: list[str], now: datetime
) -> bool:
    if leaf.issuer != authority.subject or leaf.not_valid_after_utc - now < RENEW_BEFORE:
        return False
    alternative_names = leaf.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    addresses_held = map(str, alternative_names.get_values_for_type(x509.IPAddress))
    held = {*addresses_held, *alternative_names.get_values_for_type(x509.DNSName)}
    return held >= {*addresses, *names}


def _load(path: Path) -> x509.Certificate | None:
    try:
        return x509.load_pem_x509_certificate(path.read_bytes())
    except (FileNotFoundError, ValueError):
        return None


def _fit(certificate: x509.Certificate | None, path: Path) -> bool:
    """Whether the certificate is there and belongs to the key in `path`: they are two files, written one after the
    other, and a power cut between the two leaves a pair no server can start with."""
    try:
        key = serialization.load_pem_private_key(path.read_bytes(), None)
    except (FileNotFoundError, ValueError):
        return False
    return certificate is not None and certificate.public_key() == key.public_key()


def _pem(key) -> bytes:
    return key.private_bytes(
        serialization.Encoding.PEM, serialization.PrivateFormat.PKCS8, serialization.NoEncryption()
    )


def _write(path: Path, data: bytes, mode: int) -> None:
    fresh = path.with_name(path.name + ".new")
    fresh.unlink(missing_ok=True)
    fd = os.open(fresh, os.O_WRONLY | os.O_CREAT | os.O_EXCL, mode)
    with os.fdopen(fd, "wb") as out:
        out.write(data)
        out.flush()
        os.fsync(out.fileno())
    fresh.replace(path)


def is_private(address: str) -> bool:
    """True for an address the workshop's authority may speak for."""
    known = ipaddress.ip_address(address)
    return any(
        known in ipaddress.ip_network(net) for net in PRIVATE if ipaddress.ip_network(net).version == known.version
    )


def lan_addresses() -> list[str]:
    """This machine's own private IPv4 addresses without loopback, the one that leads out of the house first."""
    issued = []
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect(("192.0.2.1", 9))  # TEST-NET-1: no packet is sent, the kernel only picks the way out
            issued.append(probe.getsockname()[0])
        except OSError:
            pass
        for _, name in socket.if_nameindex():
            try:
                answer = fcntl.ioctl(probe.fileno(), 0x8915, struct.pack("256s", name.encode()[:15]))  # SIOCGIFADDR
                issued.append(socket.inet_ntoa(answer[20:24]))
            except OSError:
                continue
    private = [a for a in dict.fromkeys(issued) if is_private(a) and not ipaddress.ip_address(a).is_loopback]
    return [a for a in private if not ipaddress.ip_address(a).is_link_local] or private


def local_name() -> str:
    """The name by which phones on the workshop's network may find this machine."""
    label = socket.gethostname().split(".")[0].lower()
    clean = "".join(c if c.isascii() and c.isalnum() else "-" for c in label).strip("-") or "workshop"
    return f"{clean[:60]}.local"
