"""An authority of our own, and a certificate for the addresses of this machine: https without anybody outside.

Source: RFC 5280 (profile of certificates), RFC 6125 (names in subjectAltName).
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import UTC, datetime, timedelta
from ipaddress import ip_address
from pathlib import Path

from cryptography import x509
from cryptography.hazmat.primitives import hashes
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.hazmat.primitives.serialization import Encoding, NoEncryption, PrivateFormat, load_pem_private_key
from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID

AUTHORITY_FILE = "authority.crt"
_AUTHORITY_KEY, _FILE, _KEY = "authority.key", "pages.crt", "pages.key"
_AUTHORITY_DAYS, _DAYS, _RENEW_DAYS = 3650, 397, 30  # browsers take no server certificate of more than 398 days


def certificates(folder: Path, names: Sequence[str], *, now: datetime | None = None) -> tuple[Path, Path, str]:
    """(certificate, key, fingerprint of the authority) for names and addresses; made anew when they are out of date."""
    at = now or datetime.now(UTC)
    authority, key = _authority(folder, at)
    if not _is_good(folder / _FILE, authority, names, at):
        _write_for(folder, names, authority, key, at)
    fingerprint = authority.fingerprint(hashes.SHA256()).hex(":").upper()
    return folder / _FILE, folder / _KEY, fingerprint


def _authority(folder: Path, at: datetime) -> tuple[x509.Certificate, ec.EllipticCurvePrivateKey]:
    file, key_file = folder / AUTHORITY_FILE, folder / _AUTHORITY_KEY
    if file.exists() and key_file.exists():
        known = x509.load_pem_x509_certificate(file.read_bytes())
        key = load_pem_private_key(key_file.read_bytes(), None)
        if at < known.not_valid_after_utc - timedelta(days=_DAYS) and isinstance(key, ec.EllipticCurvePrivateKey):
            return known, key
    key = ec.generate_private_key(ec.SECP256R1())
    name = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, "Stillroom of this house")])
    made = (
        _builder(name, name, key, at, _AUTHORITY_DAYS)
        .add_extension(x509.BasicConstraints(ca=True, path_length=0), critical=True)
        .add_extension(_usage(signs=True), critical=True)
        .sign(key, hashes.SHA256())
    )
    _keep(key_file, _private(key))
    _keep(file, made.public_bytes(Encoding.PEM))
    return made, key


def _write_for(
    folder: Path, names: Sequence[str], authority: x509.Certificate, key: ec.EllipticCurvePrivateKey, at: datetime
) -> None:
    own = ec.generate_private_key(ec.SECP256R1())
    subject = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, names[0][:64])])
    made = (
        _builder(subject, authority.subject, own, at, _DAYS)
        .add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
        .add_extension(_usage(signs=False), critical=True)
        .add_extension(x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH]), critical=False)
        .add_extension(x509.SubjectAlternativeName([_name(name) for name in names]), critical=False)
        .add_extension(
            x509.AuthorityKeyIdentifier.from_issuer_public_key(key.public_key()),
            critical=False,
        )
        .sign(key, hashes.SHA256())
    )
    _keep(folder / _KEY, _private(own))
    _keep(folder / _FILE, made.public_bytes(Encoding.PEM))


def _is_good(file: Path, authority: x509.Certificate, names: Sequence[str], at: datetime) -> bool:
    """Whether the certificate there is ours, for these names, and holds for a month yet."""
    if not file.exists():
        return False
    known = x509.load_pem_x509_certificate(file.read_bytes())
    found = known.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    issuer = known.extensions.get_extension_for_class(x509.AuthorityKeyIdentifier).value
    ours = x509.AuthorityKeyIdentifier.from_issuer_public_key(authority.public_key())  # type: ignore[arg-type]
    return (
        set(found) == {_name(name) for name in names}
        and issuer == ours
        and at < known.not_valid_after_utc - timedelta(days=_RENEW_DAYS)
    )


def _builder(
    subject: x509.Name, issuer: x509.Name, key: ec.EllipticCurvePrivateKey, at: datetime, days: int
) -> x509.CertificateBuilder:
    return (
        x509.CertificateBuilder()
        .subject_name(subject)
        .issuer_name(issuer)
        .public_key(key.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(at - timedelta(days=1))  # clocks of tablets are wrong
        .not_valid_after(at + timedelta(days=days))
        .add_extension(x509.SubjectKeyIdentifier.from_public_key(key.public_key()), critical=False)
    )


def _usage(*, signs: bool) -> x509.KeyUsage:
    return x509.KeyUsage(
        digital_signature=not signs,
        content_commitment=False,
        key_encipherment=False,
        data_encipherment=False,
        key_agreement=False,
        key_cert_sign=signs,
        crl_sign=signs,
        encipher_only=False,
        decipher_only=False,
    )


def _name(name: str) -> x509.GeneralName:
    try:
        return x509.IPAddress(ip_address(name))
    except ValueError:
        return x509.DNSName(name)


def _private(key: ec.EllipticCurvePrivateKey) -> bytes:
    return key.private_bytes(Encoding.PEM, PrivateFormat.PKCS8, NoEncryption())


def _keep(file: Path, content: bytes) -> None:
    """Whole or not at all, for its owner only."""
    half = file.with_suffix(file.suffix + ".half")
    half.touch(mode=0o600)
    half.write_bytes(content)
    half.replace(file)
