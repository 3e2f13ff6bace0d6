"""The certificate authority and the server's certificate: what is in them, and when they are made anew."""

import os
import plistlib
import ssl
import stat
from datetime import UTC, datetime, timedelta

import pytest
from cryptography import x509
from cryptography.hazmat.primitives import serialization
from cryptography.x509.oid import ExtendedKeyUsageOID

from core.problems import Problem
from fieldapp.certificates import CA_CERTIFICATE, CA_KEY, FOLDER, LEAF_CERTIFICATE, LEAF_KEY, Authority, names_of

NAMES = ["pits", "pitsplice-pits.local", "192.168.1.5", "fd00::5"]


class Now:
    def __init__(self):
        self.time = datetime(2026, 3, 1, 10, tzinfo=UTC)

    def __call__(self):
        return self.time


@pytest.fixture
def now():
    return Now()


@pytest.fixture
def authority(tmp_path, now):
    return Authority(tmp_path, NAMES, now)


def leaf_of(authority, names=NAMES):
    certificate, _, refused = authority.leaf(names)
    assert refused == []
    return x509.load_pem_x509_certificate(certificate.read_bytes())


def test_the_authority_lasts_ten_years_and_can_only_sign(authority, now):
    made = authority.certificate
    # hand: 3650 days from a day before 2026-03-01, the last second left out
    assert made.not_valid_before_utc == now.time - timedelta(days=1)
    assert made.not_valid_after_utc == datetime(2036, 2, 26, 9, 59, 59, tzinfo=UTC)
    basic = made.extensions.get_extension_for_class(x509.BasicConstraints)
    assert (basic.critical, basic.value.ca, basic.value.path_length) == (True, True, 0)
    usage = made.extensions.get_extension_for_class(x509.KeyUsage).value
    assert (usage.key_cert_sign, usage.digital_signature) == (True, False)
    # published: RFC 5280, 4.2.1.10, name constraints must be critical
    assert made.extensions.get_extension_for_class(x509.NameConstraints).critical
    made.verify_directly_issued_by(made)


@pytest.mark.skipif(os.name == "nt", reason="file modes")
def test_keys_are_readable_by_their_owner_only(tmp_path, authority, now):
    authority.leaf(NAMES)
    folder = tmp_path / FOLDER
    assert stat.S_IMODE(folder.stat().st_mode) == 0o700
    for key in (CA_KEY, LEAF_KEY):
        assert stat.S_IMODE((folder / key).stat().st_mode) == 0o600
    (folder / CA_KEY).chmod(0o644)
    Authority(tmp_path, NAMES, now)
    assert stat.S_IMODE((folder / CA_KEY).stat().st_mode) == 0o600
    assert sorted(p.name for p in folder.iterdir()) == sorted([CA_CERTIFICATE, CA_KEY, LEAF_CERTIFICATE, LEAF_KEY])


def test_the_server_certificate_names_this_laptop_and_lasts_397_days_at_most(authority):
    leaf = leaf_of(authority)
    assert names_of(leaf) == ["localhost", "127.0.0.1", "::1", *NAMES]
    # hand: RFC 5280, 4.1.2.5, both ends count, so the difference is a second less
    assert leaf.not_valid_after_utc - leaf.not_valid_before_utc == timedelta(days=397) - timedelta(seconds=1)
    leaf.verify_directly_issued_by(authority.certificate)
    assert list(leaf.extensions.get_extension_for_class(x509.ExtendedKeyUsage).value) == [ExtendedKeyUsageOID.SERVER_AUTH]
    assert not leaf.extensions.get_extension_for_class(x509.BasicConstraints).value.ca


def test_it_is_kept_while_good_and_made_anew_for_an_address_or_in_its_last_month(tmp_path, authority, now):
    first = leaf_of(authority)
    assert leaf_of(authority, NAMES[:2]) == first
    assert leaf_of(Authority(tmp_path, (), now)) == first
    moved = leaf_of(authority, [*NAMES, "10.0.0.7"])
    assert moved != first
    assert "10.0.0.7" in names_of(moved)
    # hand: 397 days less the backdated one leave 396; 30 of them are the last month
    now.time += timedelta(days=365)
    assert leaf_of(authority, ["10.0.0.7"]) == moved
    now.time += timedelta(days=1)
    renewed = leaf_of(authority, NAMES)
    assert renewed != moved
    assert renewed.not_valid_after_utc > now.time + timedelta(days=390)
    for leaf in (first, moved, renewed):
        leaf.verify_directly_issued_by(authority.certificate)


def test_a_damaged_server_certificate_is_made_anew(tmp_path, authority):
    first = leaf_of(authority)
    (tmp_path / FOLDER / LEAF_CERTIFICATE).write_bytes(b"not a certificate")
    second = leaf_of(authority)
    assert second != first
    (tmp_path / FOLDER / LEAF_KEY).write_bytes((tmp_path / FOLDER / CA_KEY).read_bytes())
    assert leaf_of(authority) != second


@pytest.mark.parametrize("file", [CA_CERTIFICATE, CA_KEY])
@pytest.mark.parametrize("change", ["gone", "garbage", "another"])
def test_a_damaged_authority_is_told_and_never_replaced(tmp_path, authority, now, file, change):
    path = tmp_path / FOLDER / file
    if change == "gone":
        path.unlink()
    else:
        other = Authority(tmp_path / "other", NAMES, now)
        path.write_bytes(b"garbage" if change == "garbage" else (other.folder / file).read_bytes())
    with pytest.raises(Problem) as told:
        Authority(tmp_path, NAMES, now)
    assert told.value.kind == "certificate-files"
    assert str(tmp_path / FOLDER) in told.value.given


def test_an_authority_in_its_last_month_is_told(tmp_path, authority, now):
    now.time += timedelta(days=3620)
    with pytest.raises(Problem) as told:
        Authority(tmp_path, NAMES, now)
    assert "run out" in told.value.title


@pytest.mark.parametrize(
    ("name", "can"),
    [
        ("pits", True), ("other.local", True), ("a.b.local", True), ("local", True), ("10.255.0.1", True), ("fe80::1", True),
        ("localhost", True), ("evil.example", False), ("evillocal", False), ("8.8.8.8", False), ("2001:db8::1", False),
        ("pits.example", False), ("a_b.local", False),
    ],
)  # fmt: skip
def test_the_authority_vouches_for_private_names_only(authority, name, can):
    assert authority.permits(name) is can
    _, _, refused = authority.leaf([name])
    assert refused == ([] if can or "_" in name else [name])


def test_openssl_refuses_what_the_constraints_forbid(tmp_path, authority, now):
    # outside check: the ssl module (OpenSSL) enforces the constraints of a root in its chain.
    authority.permits = lambda name: True
    authority.leaf(["evil.example"])
    client = ssl.create_default_context(cafile=str(authority.folder / CA_CERTIFICATE))
    client.check_hostname = False
    with pytest.raises(ssl.SSLCertVerificationError, match="permitted subtree"):
        shake(client, authority, "evil.example")


def shake(client, authority, name):
    """Shake hands in memory and return the certificate the client accepted."""
    from fieldapp.tls import tls_context

    server = tls_context(authority.folder / LEAF_CERTIFICATE, authority.folder / LEAF_KEY)
    up, down = ssl.MemoryBIO(), ssl.MemoryBIO()
    ends = [client.wrap_bio(down, up, server_hostname=name), server.wrap_bio(up, down, server_side=True)]
    for _ in range(4):
        for end in ends:
            try:
                end.do_handshake()
            except ssl.SSLWantReadError:
                continue
    return ends[0].getpeercert()


@pytest.mark.parametrize("name", ["localhost", "127.0.0.1", "::1", *NAMES])
def test_a_client_that_trusts_the_authority_accepts_every_name(authority, name, now):
    # The handshake checks against the clock of this machine.
    now.time = datetime.now(UTC)
    authority.leaf(NAMES)
    client = ssl.create_default_context(cafile=str(authority.folder / CA_CERTIFICATE))
    assert shake(client, authority, name)["notAfter"]
    with pytest.raises(ssl.SSLCertVerificationError, match="mismatch"):
        shake(client, authority, "else.local")


def test_the_profile_carries_the_authority_and_nothing_secret(authority):
    told = plistlib.loads(authority.profile())
    assert told["PayloadType"] == "Configuration"
    (payload,) = told["PayloadContent"]
    # published: Apple, Configuration Profile Reference, com.apple.security.root
    assert payload["PayloadType"] == "com.apple.security.root"
    assert x509.load_der_x509_certificate(payload["PayloadContent"]) == authority.certificate
    secret = authority.key.private_bytes(
        serialization.Encoding.DER, serialization.PrivateFormat.PKCS8, serialization.NoEncryption()
    )
    assert secret not in authority.profile()
    assert authority.profile() == authority.profile()


def test_the_fingerprint_is_the_sha256_of_what_a_phone_installs(authority):
    import hashlib

    digest = hashlib.sha256(authority.der).hexdigest().upper()
    assert authority.fingerprint == ":".join(digest[i : i + 2] for i in range(0, 64, 2))
    # hand: 32 pairs, eight a line
    assert len(authority.fingerprint_lines(8)) == 4
    assert "".join(authority.fingerprint_lines(8)) == authority.fingerprint
