"""Phones: trust, pairing and roles in Chromium, over HTTPS under a certificate it really checks."""

from __future__ import annotations

import io
import os
import re
import subprocess

import pytest
import zxingcpp
from PIL import Image

from fieldapp.security import lan_addresses, mdns_name
from tests.browser.conftest import FLAGS, PHONE, chromium_path
from tests.browser.flow import look
from tests.lan import Lan

pytestmark = pytest.mark.browser
ADDRESSES = [address for address in lan_addresses() if ":" not in address]
# The laptop's own address on its network: a connection to it is no loopback connection, as from a phone.
needs_network = pytest.mark.skipif(not ADDRESSES, reason="this machine has no address on a network")


@pytest.fixture
def lan(tmp_path):
    running = Lan(tmp_path / "data")
    yield running
    assert running.stop() == 0
    assert "Traceback" not in running.said


def chromium_of_a_phone(browser, home, authority=None):
    """Start another Chromium with a home folder of its own, in which it trusts `authority` and nothing else of ours."""
    database = home / ".pki" / "nssdb"
    database.mkdir(parents=True)
    subprocess.run(["certutil", "-d", f"sql:{database}", "-N", "--empty-password"], check=True)
    if authority:
        subprocess.run(["certutil", "-d", f"sql:{database}", "-A", "-t", "C,,", "-n", "pitsplice", "-i", authority], check=True)
    # Chromium's own resolver asks no multicast DNS; the name leads to the same address a phone would find.
    names = f"--host-resolver-rules=MAP {mdns_name()} {ADDRESSES[0]}"
    return browser.browser_type.launch(executable_path=chromium_path(), args=[*FLAGS, names], env={**os.environ, "HOME": str(home)})


@pytest.fixture
def far_phone(browser, lan, tmp_path):
    """A phone's page that trusts the laptop's authority."""
    running = chromium_of_a_phone(browser, tmp_path / "home", lan.authority)
    page = running.new_context(viewport=PHONE, device_scale_factor=2, has_touch=True, is_mobile=True).new_page()
    page.set_default_timeout(8000)
    trouble: list[str] = []
    page.on("pageerror", lambda error: trouble.append(f"script: {error}"))
    page.on("console", lambda message: trouble.append(message.text) if "Content Security Policy" in message.text else None)
    yield page
    running.close()
    assert not trouble, trouble


def scan(page) -> str:
    """Read the QR code on the laptop's screen as a phone's camera does."""
    picture = Image.open(io.BytesIO(page.locator(".pairing-qr").screenshot()))
    # reference library: zxing-cpp
    return zxingcpp.read_barcode(picture).text


def make_pairing(page, lan, name, role):
    page.goto(f"http://localhost:{lan.plain}/devices")
    page.get_by_role("button", name="Pair a phone").click()
    page.fill("#for", name)
    page.locator(f"input[name='role'][value='{role}']").check()
    page.get_by_role("button", name="Show the code").click()
    page.locator(".pairing-qr svg").wait_for()


@needs_network
def test_a_phone_is_paired_by_the_scanned_code_over_https_and_kept_to_its_role(phone, far_phone, lan, shot):
    laptop = phone
    laptop.goto(f"http://localhost:{lan.plain}/")
    laptop.get_by_role("link", name="Devices").click()
    laptop.get_by_role("heading", name="Devices").wait_for()
    look(laptop, shot, "30-devices-none")
    laptop.get_by_role("button", name="Pair a phone").click()
    look(laptop, shot, "31-devices-new")
    make_pairing(laptop, lan, "Robin", "weld")
    look(laptop, shot, "32-devices-code")
    address = scan(laptop)
    assert re.fullmatch(rf"https://{re.escape(mdns_name())}:{lan.secure}/pair#[A-Za-z0-9_-]{{22}}", address)

    # Before it is paired it gets the page and no data.
    origin = address.partition("/pair")[0]
    far_phone.goto(origin)
    far_phone.get_by_text("This phone is not paired with the laptop.").wait_for()
    assert far_phone.evaluate("isSecureContext")
    look(far_phone, shot, "33-home-not-paired")

    far_phone.goto(address)
    far_phone.get_by_text("The code was read.").wait_for()
    assert far_phone.evaluate("location.hash") == ""
    far_phone.fill("#phone", "Robin")
    look(far_phone, shot, "34-pair")
    far_phone.get_by_role("button", name="Pair this phone").click()
    far_phone.get_by_role("heading", name="This phone is paired").wait_for()
    look(far_phone, shot, "35-paired")
    (cookie,) = far_phone.context.cookies()
    assert (cookie["name"], cookie["secure"], cookie["httpOnly"], cookie["sameSite"]) == ("__Host-pitsplice", True, True, "Strict")
    assert far_phone.evaluate("document.cookie") == ""
    laptop.get_by_role("heading", name="Paired").first.wait_for()
    laptop.get_by_role("button", name="Done").click()

    # A welder's phone may not start a job: it is told so, and nothing is written.
    far_phone.get_by_role("link", name="Go to the start").click()
    far_phone.get_by_text("None yet.").wait_for()
    assert far_phone.get_by_role("link", name="Devices").count() == 0
    far_phone.get_by_role("button", name="Start a repair").click()
    far_phone.fill("#title", "Left door bar")
    far_phone.fill("#who", "Robin")
    far_phone.get_by_role("button", name="Start", exact=True).click()
    far_phone.get_by_text("This phone may not do this. It may mark steps, add photos, notes and corrections, and take and return stock.").wait_for()
    look(far_phone, shot, "36-refused-for-role")
    assert laptop.request.get(f"http://localhost:{lan.plain}/api/jobs").json()["jobs"] == []
    far_phone.goto(f"{origin}/devices")
    far_phone.get_by_text("role weld").wait_for()
    look(far_phone, shot, "37-devices-refused")

    # Taken back on the laptop, it is a stranger at its next request.
    laptop.get_by_role("button", name="Take the pairing back").click()
    look(laptop, shot, "38-devices-sure")
    laptop.get_by_role("button", name="Yes, take it back").click()
    laptop.get_by_text("It has no access.").wait_for()
    look(laptop, shot, "39-devices-taken-back")
    far_phone.goto(origin)
    far_phone.get_by_text("This phone's pairing was taken back.").wait_for()

    # The code was for one phone: a second one is told, and types another.
    make_pairing(laptop, lan, "Kim", "view")
    code = laptop.locator("[data-testid=code]").inner_text()
    far_phone.context.clear_cookies()
    far_phone.goto(address)
    far_phone.fill("#phone", "Kim")
    far_phone.get_by_role("button", name="Pair this phone").click()
    far_phone.get_by_text("This pairing is not open.").wait_for()
    far_phone.fill("#code", code.lower().replace("-", " "))
    look(far_phone, shot, "40-pair-by-code")
    far_phone.get_by_role("button", name="Pair this phone").click()
    far_phone.get_by_text("look at jobs, records and stock, and change nothing").wait_for()


@needs_network
def test_the_trust_page_works_on_plain_http_and_leads_to_the_secure_page(far_phone, lan, shot):
    page = far_phone
    page.goto(f"http://{ADDRESSES[0]}:{lan.plain}/")
    page.get_by_text("This is the plain page").wait_for()
    look(page, shot, "41-home-plain")
    page.get_by_role("link", name="Use the secure page").click()
    page.get_by_role("heading", name="Trust this laptop").wait_for()
    look(page, shot, "42-trust")
    for name in ("Android", "iPhone and iPad"):
        page.locator("summary", has_text=name).click()
    look(page, shot, "43-trust-open")
    with page.expect_download() as given:
        page.get_by_role("link", name="Certificate for Android").click()
    assert given.value.suggested_filename == "pitsplice-ca.crt"
    page.get_by_role("link", name="Open the secure page").click()
    page.wait_for_url(f"https://{mdns_name()}:{lan.secure}/")
    page.get_by_role("heading", name="Splice a damaged tube").wait_for()
    assert page.evaluate("isSecureContext")
    assert page.get_by_text("This is the plain page").count() == 0
    page.goto(f"https://{ADDRESSES[0]}:{lan.secure}/trust")
    page.get_by_text("This is the secure page.").wait_for()
    look(page, shot, "44-trust-secure")


@needs_network
def test_a_phone_that_does_not_trust_the_authority_warns(browser, lan, tmp_path):
    running = chromium_of_a_phone(browser, tmp_path / "other-home")
    page = running.new_page()
    with pytest.raises(Exception, match="ERR_CERT_AUTHORITY_INVALID"):
        page.goto(f"https://{mdns_name()}:{lan.secure}/")
    running.close()


def test_a_server_for_this_laptop_only_says_so(phone, server, shot):
    phone.goto(f"{server.url}/devices")
    phone.get_by_text("This server is for this laptop only.").wait_for()
    look(phone, shot, "45-devices-laptop-only")
    phone.goto(f"{server.url}/pair")
    phone.get_by_text("It needs no pairing.").wait_for()
    look(phone, shot, "46-pair-laptop")
    phone.goto(f"{server.url}/trust")
    phone.get_by_text("there is nothing to trust").wait_for()
    look(phone, shot, "47-trust-laptop-only")
