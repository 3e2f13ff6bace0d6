"""The laptop's own certificate authority, and the certificate its HTTPS server shows.

A phone trusts the authority once; the server's certificate is then made anew whenever the
laptop has another address or a month is left, always by the same authority. Where a phone
heeds name constraints, the authority can vouch for private addresses, `.local` names and
this laptop only, so that a stolen key cannot pose as a site of the internet.
"""

from __future__ import annotations

import ipaddress
import os
import plistlib
import re
import secrets
import socket
import uuid
from collections.abc import Callable, Iterable
from datetime import UTC, datetime, timedelta
from pathlib import Path

from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID

from core.problems import Problem

FOLDER = "certificates"
CA_CERTIFICATE, CA_KEY = "pitsplice-ca.crt", "pitsplice-ca.key"
LEAF_CERTIFICATE, LEAF_KEY = "server.crt", "server.key"
CA_DAYS = 3650
# Browsers take no more than 398 days from a public authority (CA/Browser Forum, Baseline Requirements
# 6.3.2, from memory); a private one is given the same.
LEAF_DAYS = 397
RENEW_DAYS = 30
# A phone's clock may be behind the laptop's, and there is no internet to set either.
BACKDATE = timedelta(days=1)
OWN_NAMES = ("localhost", "127.0.0.1", "::1")
PERMITTED_NAMES = ("localhost", "local")
PERMITTED_NETWORKS = (
    "127.0.0.0/8", "10.0.0.0/8", "172.16.0.0/12", "192.168.0.0/16", "169.254.0.0/16", "100.64.0.0/10",
    "::1/128", "fc00::/7", "fe80::/10",
)  # fmt: skip
NAME = re.compile(r"(?=.{1,253}$)[a-z0-9]([a-z0-9-]{0,61}[a-z0-9])?(\.[a-z0-9]([a-z0-9-]{0,61}[a-z0-9])?)*")


def utc() -> datetime:
    """Return the time now, with its zone."""
    return datetime.now(UTC)


class Authority:
    """The certificate authority of one data folder, made at its first use.

    Parameters
    ----------
    data_dir : Path
        Data folder; the files go into its ``certificates`` folder.
    names : iterable of str
        Host names and addresses of this laptop now; a new authority may vouch for them beside the private ones.
    now : callable
        Returns the time with its zone.

    Raises
    ------
    Problem
        ``certificate-files`` if the files are damaged, do not belong together, or have run out: phones trust
        this very authority, so another is never made in silence.
    """

    def __init__(self, data_dir: Path, names: Iterable[str] = (), now: Callable[[], datetime] = utc) -> None:
        self.folder = Path(data_dir) / FOLDER
        self.now = now
        certificate, key = self.folder / CA_CERTIFICATE, self.folder / CA_KEY
        if not certificate.exists() and not key.exists():
            self._make(names)
        try:
            self.key = serialization.load_pem_private_key(key.read_bytes(), None)
            self.certificate = x509.load_pem_x509_certificate(certificate.read_bytes())
        except (OSError, ValueError, TypeError) as error:
            raise self._damaged(f"they cannot be read: {error}") from error
        if self.key.public_key() != self.certificate.public_key():
            raise self._damaged("the key is not the certificate's")
        if self.certificate.not_valid_after_utc <= now() + timedelta(days=RENEW_DAYS):
            raise self._damaged(f"they run out on {self.certificate.not_valid_after_utc:%Y-%m-%d}")
        if os.name != "nt":
            key.chmod(0o600)

    @property
    def der(self) -> bytes:
        """The authority's certificate as DER, what a phone installs."""
        return self.certificate.public_bytes(serialization.Encoding.DER)

    @property
    def name(self) -> str:
        """The name a phone shows for it."""
        return str(self.certificate.subject.get_attributes_for_oid(NameOID.COMMON_NAME)[0].value)

    @property
    def fingerprint(self) -> str:
        """SHA-256 of the certificate in pairs of hex digits, as phones show it."""
        return self.certificate.fingerprint(hashes.SHA256()).hex(":").upper()

    def fingerprint_lines(self, pairs: int) -> list[str]:
        """Return the fingerprint in lines of so many pairs: one long line is compared badly."""
        return [self.fingerprint[start : start + 3 * pairs] for start in range(0, 95, 3 * pairs)]

    def profile(self) -> bytes:
        """Return an iOS configuration profile that carries the authority and nothing else."""
        ours = uuid.uuid5(uuid.NAMESPACE_OID, self.fingerprint)
        payload = {
            "PayloadType": "com.apple.security.root",
            "PayloadVersion": 1,
            "PayloadIdentifier": f"pitsplice.ca.{ours}.root",
            "PayloadUUID": str(uuid.uuid5(ours, "root")).upper(),
            "PayloadDisplayName": self.name,
            "PayloadCertificateFileName": CA_CERTIFICATE,
            "PayloadContent": self.der,
        }
        return plistlib.dumps({
            "PayloadType": "Configuration",
            "PayloadVersion": 1,
            "PayloadIdentifier": f"pitsplice.ca.{ours}",
            "PayloadUUID": str(ours).upper(),
            "PayloadDisplayName": self.name,
            "PayloadDescription": "Lets this phone check that it talks to the Pitsplice laptop.",
            "PayloadContent": [payload],
        })  # fmt: skip

    def permits(self, name: str) -> bool:
        """Tell whether a certificate for `name`, a host name or an address, keeps the name constraints."""
        permitted = self.certificate.extensions.get_extension_for_class(x509.NameConstraints).value.permitted_subtrees
        one = _general(name)
        if isinstance(one, x509.IPAddress):
            networks = [n.value for n in permitted or () if isinstance(n, x509.IPAddress)]
            return any(one.value in network for network in networks if network.version == one.value.version)
        bases = [n.value for n in permitted or () if isinstance(n, x509.DNSName)]
        return one is not None and any(one.value == base or one.value.endswith(f".{base}") for base in bases)

    def leaf(self, names: Iterable[str]) -> tuple[Path, Path, list[str]]:
        """Return certificate file, key file, and the names it cannot hold; made anew when it has to be.

        It is kept while it names all of `names` and more than 30 days are left.
        """
        wanted = list(dict.fromkeys(n.lower() for n in (*OWN_NAMES, *names) if _general(n.lower())))
        refused = [name for name in wanted if not self.permits(name)]
        wanted = [name for name in wanted if name not in refused]
        certificate, key = self.folder / LEAF_CERTIFICATE, self.folder / LEAF_KEY
        if not self._still_good(certificate, key, wanted):
            self._issue(wanted)
        return certificate, key, refused

    def _still_good(self, certificate: Path, key: Path, wanted: list[str]) -> bool:
        try:
            found = x509.load_pem_x509_certificate(certificate.read_bytes())
            pair = serialization.load_pem_private_key(key.read_bytes(), None)
            found.verify_directly_issued_by(self.certificate)
            held = set(names_of(found))
        except Exception:
            # Whatever is wrong with the old one, a new one mends it.
            return False
        left = found.not_valid_after_utc - self.now()
        fresh = timedelta(days=RENEW_DAYS) < left <= timedelta(days=LEAF_DAYS)
        return fresh and pair.public_key() == found.public_key() and held >= set(wanted)

    def _make(self, names: Iterable[str]) -> None:
        key = ec.generate_private_key(ec.SECP256R1())
        label = re.sub(r"[^A-Za-z0-9-]+", "-", socket.gethostname().partition(".")[0]) or "laptop"
        # The last part tells two laptops of one name apart in a phone's list.
        subject = _named(f"Pitsplice {label} {secrets.token_hex(2)}")
        extra = [one for one in map(_general, dict.fromkeys(n.lower() for n in names)) if one is not None]
        permitted: list[x509.GeneralName] = [x509.DNSName(name) for name in PERMITTED_NAMES]
        permitted += [x509.IPAddress(ipaddress.ip_network(network)) for network in PERMITTED_NETWORKS]
        for one in extra:
            alone = x509.IPAddress(ipaddress.ip_network(one.value)) if isinstance(one, x509.IPAddress) else one
            if alone not in permitted:
                permitted.append(alone)
        start = self.now() - BACKDATE
        made = (
            _builder(subject, subject, key.public_key(), start, timedelta(days=CA_DAYS))
            .add_extension(x509.BasicConstraints(ca=True, path_length=0), critical=True)
            .add_extension(_usage(key_cert_sign=True, crl_sign=True), critical=True)
            .add_extension(x509.NameConstraints(permitted, None), critical=True)
            .add_extension(x509.SubjectKeyIdentifier.from_public_key(key.public_key()), critical=False)
            .sign(key, hashes.SHA256())
        )
        try:
            self.folder.mkdir(mode=0o700, parents=True, exist_ok=True)
            _keep(self.folder / CA_KEY, _pem(key))
            _keep(self.folder / CA_CERTIFICATE, made.public_bytes(serialization.Encoding.PEM), 0o644)
        except OSError as error:
            raise self._damaged(f"they cannot be written: {error.strerror}") from error

    def _issue(self, names: list[str]) -> None:
        key = ec.generate_private_key(ec.SECP256R1())
        issuer = self.certificate.extensions.get_extension_for_class(x509.SubjectKeyIdentifier).value
        start = self.now() - BACKDATE
        made = (
            _builder(_named("Pitsplice server"), self.certificate.subject, key.public_key(), start, timedelta(days=LEAF_DAYS))
            .add_extension(x509.SubjectAlternativeName([_general(name) for name in names]), critical=False)
            .add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
            .add_extension(_usage(digital_signature=True), critical=True)
            .add_extension(x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH]), critical=False)
            .add_extension(x509.SubjectKeyIdentifier.from_public_key(key.public_key()), critical=False)
            .add_extension(x509.AuthorityKeyIdentifier.from_issuer_subject_key_identifier(issuer), critical=False)
            .sign(self.key, hashes.SHA256())
        )  # fmt: skip
        try:
            _keep(self.folder / LEAF_KEY, _pem(key))
            _keep(self.folder / LEAF_CERTIFICATE, made.public_bytes(serialization.Encoding.PEM), 0o644)
        except OSError as error:
            raise self._damaged(f"they cannot be written: {error.strerror}") from error

    def _damaged(self, why: str) -> Problem:
        return Problem(
            "certificate-files", f"The certificate files cannot be used: {why}.", given=str(self.folder),
            allowed="the files that this program made there, whole.",
            next_step="Put them back from a copy. Or delete that folder: every phone must then trust the new one.",
        )  # fmt: skip


def names_of(certificate: x509.Certificate) -> list[str]:
    """Return the host names and addresses a server certificate is for."""
    held = certificate.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    return [str(one.value) for one in held]


def _general(name: str) -> x509.IPAddress | x509.DNSName | None:
    try:
        return x509.IPAddress(ipaddress.ip_address(name))
    except ValueError:
        # A name with an underscore or another odd character is no host name of a certificate.
        return x509.DNSName(name) if NAME.fullmatch(name) else None


def _named(common: str) -> x509.Name:
    return x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, common[:64])])


def _builder(
    subject: x509.Name, issuer: x509.Name, key: ec.EllipticCurvePublicKey, start: datetime, lasts: timedelta
) -> x509.CertificateBuilder:
    # The last second counts as well (RFC 5280, 4.1.2.5).
    return (
        x509.CertificateBuilder().subject_name(subject).issuer_name(issuer).public_key(key)
        .serial_number(x509.random_serial_number())
        .not_valid_before(start).not_valid_after(start + lasts - timedelta(seconds=1))
    )  # fmt: skip


def _usage(**given: bool) -> x509.KeyUsage:
    every = ("digital_signature", "content_commitment", "key_encipherment", "data_encipherment", "key_agreement",
             "key_cert_sign", "crl_sign", "encipher_only", "decipher_only")  # fmt: skip
    return x509.KeyUsage(**{name: given.get(name, False) for name in every})


def _pem(key: ec.EllipticCurvePrivateKey) -> bytes:
    return key.private_bytes(
        serialization.Encoding.PEM, serialization.PrivateFormat.PKCS8, serialization.NoEncryption()
    )


def _keep(path: Path, content: bytes, mode: int = 0o600) -> None:
    """Write a whole file or none; a key is never readable by others, not even for a moment."""
    part = path.with_name(f".{path.name}.{secrets.token_hex(4)}")
    try:
        with os.fdopen(os.open(part, os.O_WRONLY | os.O_CREAT | os.O_EXCL, mode), "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        part.replace(path)
    finally:
        part.unlink(missing_ok=True)
