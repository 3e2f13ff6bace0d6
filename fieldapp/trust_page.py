"""The words of the trust page.

Sources of the settings' names, read in stored copies of public pages:
Android 13 and newer: start9 documentation, "Trust your Root CA (Android)", and two others of the same path.
iOS: Apple support, "Trust manually installed certificate profiles in iOS and iPadOS", and "Install a
configuration profile on your iPhone or iPad" (eight minutes); "VPN & Device Management": mitmproxy's
certificate page. That this name began with iOS 15, and "More security & privacy" with Android 14: from memory.
"""

from __future__ import annotations

from html import escape

from fieldapp.config import Site

ANDROID = (
    "Tap <b>Certificate for Android</b> above. The file lands in Downloads.",
    "Open the phone's <b>Settings</b>.",
    "Tap <b>Security &amp; privacy</b>. On some phones: <b>Security</b>.",
    "Tap <b>More security settings</b>. On some phones: <b>More security &amp; privacy</b>.",
    "Tap <b>Encryption &amp; credentials</b>.",
    "Tap <b>Install a certificate</b>.",
    "Tap <b>CA certificate</b>.",
    "The phone warns that such a certificate can be used to read traffic. Tap <b>Install anyway</b>.",
    "Choose <b>pitsplice-ca.crt</b>.",
    "Go back one place. Tap <b>Trusted credentials</b>, then <b>User</b>, then <b>{name}</b>. Compare its SHA-256 with the laptop.",
)
IOS = (
    "Open this page in <b>Safari</b>.",
    "Tap <b>Profile for iPhone and iPad</b> above. Tap <b>Allow</b>.",
    "Open <b>Settings</b> within eight minutes. Tap <b>Profile Downloaded</b>.",
    "Tap <b>More Details</b>, then <b>{name}</b>. Compare its SHA-256 with the laptop. Go back.",
    "Tap <b>Install</b>. Type the phone's passcode. Tap <b>Install</b> again.",
    "Go to <b>Settings</b>, <b>General</b>, <b>About</b>, <b>Certificate Trust Settings</b>.",
    "Under <b>Enable full trust for root certificates</b> switch on <b>{name}</b>. Without this step nothing changes.",
    "Tap <b>Continue</b>.",
)
MISSING = (
    "The page does not open when the laptop is out of reach.",
    "There is no live camera for tags. A photo of the tag or its typed id still works.",
    "Others on this Wi-Fi can read what is sent, and could use this phone's pairing.",
)


def trust_page(site: Site, secure: bool) -> str:
    """Return the page as HTML; `secure` tells whether it is sent over HTTPS."""
    if site.authority is None:
        body = (
            "<h1>Trust this laptop</h1><p>This server is for this laptop only: there is nothing to trust.</p>"
            "<p>For phones, start it with <code>pitsplice serve --lan</code>.</p>"
        )
    else:
        body = _body(site, secure)
    return (
        '<!doctype html><html lang="en"><head><meta charset="utf-8">'
        '<meta name="viewport" content="width=device-width, initial-scale=1, viewport-fit=cover">'
        '<title>Trust this laptop - Pitsplice</title><link rel="icon" href="/static/icon.svg" type="image/svg+xml">'
        '<link rel="stylesheet" href="/static/css/app.css"></head><body>'
        '<a class="skip" href="#content">Skip to the content</a>'
        '<header><nav class="top" aria-label="Pitsplice"><a href="/" aria-label="Pitsplice, start">⌂</a>'
        '<a class="name" href="/">Pitsplice</a></nav></header>'
        f'<main class="page" id="content">{body}</main></body></html>\n'
    )


def _body(site: Site, secure: bool) -> str:
    name = escape(site.authority.name)
    pairs = "<br>".join(site.authority.fingerprint_lines(8))
    here = (
        '<p class="note">This is the secure page. If the browser gave no warning, this phone trusts the laptop already.</p>'
        if secure
        else f'<p>This is the plain page (http). It works, with less:</p><ul>{"".join(f"<li>{line}</li>" for line in MISSING)}</ul>'
        "<p>Once this phone trusts the laptop, it has all three.</p>"
    )
    spare = "".join(f'<li class="mono">{escape(address)}</li>' for address in site.secure)
    return (
        f"<h1>Trust this laptop</h1>{here}"
        f"<h2>1. Download</h2><p>It is called <b>{name}</b>. This laptop made it. It can vouch for private addresses, names ending"
        " in .local, and this laptop.</p>"
        '<div class="homebuttons"><a class="button" href="/trust/pitsplice-ca.crt">Certificate for Android</a>'
        '<a class="button" href="/trust/pitsplice-ca.mobileconfig">Profile for iPhone and iPad</a></div>'
        "<h2>2. Install and switch on</h2>"
        f"<details><summary>Android</summary>{_steps(ANDROID, name)}"
        '<p class="quiet">Words of Android 13 and newer. Makers change them: search the settings for CA certificate.'
        " Chrome uses it; another browser may keep a list of its own.</p></details>"
        f"<details><summary>iPhone and iPad</summary>{_steps(IOS, name)}"
        '<p class="quiet">Words of iOS 15 and newer. Other versions differ.</p></details>'
        "<h2>3. Compare the fingerprint</h2><p>Compare what the phone shows in its settings with the laptop's terminal. "
        "This page alone proves nothing: someone on the Wi-Fi could have changed it. They must be the same, all of it.</p>"
        f'<p class="note mono seal">SHA-256<br>{pairs}</p>'
        '<p class="caution">If they differ, remove it from the phone, and do not go on.</p>'
        "<h2>4. Go on</h2>"
        f'<p><a class="button main full" href="{escape(site.origin)}/">Open the secure page</a></p>'
        f'<p class="mono seal">{escape(site.origin)}/</p>'
        "<p>Always use this address. What a phone has not sent yet stays with the address it was made at.</p>"
        + (f"<p>Only if the phone does not find it:</p><ul>{spare}</ul>" if spare else "")
        + "<p>Then pair the phone: on the laptop open <b>Devices</b>, and scan its code.</p>"
        "<h2>To take it off again</h2><p>Android: <b>Encryption &amp; credentials</b>, <b>Trusted credentials</b>, <b>User</b>."
        " iPhone: <b>General</b>, <b>VPN &amp; Device Management</b>.</p>"
    )


def _steps(lines: tuple[str, ...], name: str) -> str:
    return f"<ol>{''.join(f'<li><p>{line.format(name=name)}</p></li>' for line in lines)}</ol>"
