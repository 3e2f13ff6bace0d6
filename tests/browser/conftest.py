"""A real server in its own process, Chromium at phone size, screenshots kept as artefacts."""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
from pathlib import Path

import pytest
from playwright.sync_api import sync_playwright

from tests.browser.pit import free_port

ROOT = Path(__file__).resolve().parents[2]
SCREENS = ROOT / "artefacts" / "screens"
PHONE = {"width": 390, "height": 844}
FLAGS = ["--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync"]


def chromium_path() -> str | None:
    """Return Debian's Chromium where there is one; None lets Playwright use its own."""
    return next((path for path in ("/usr/bin/chromium", "/usr/bin/chromium-browser") if Path(path).exists()), None)


class Server:
    """The real command, on a free port or a given one, in a folder of its own."""

    def __init__(self, folder: Path, command: str = "serve", port: int = 0) -> None:
        self.folder = folder
        self.process = subprocess.Popen(
            [sys.executable, "-m", "fieldapp.cli", command, "--port", str(port), "--data", str(folder)],
            cwd=ROOT, stdout=subprocess.PIPE, text=True, env={**os.environ, "PYTHONUNBUFFERED": "1"},
        )  # fmt: skip
        self.url = ""
        for line in self.process.stdout:
            found = re.search(r"http://localhost:\d+", line)
            if found:
                self.url = found[0]
                break
        assert self.url, "the server printed no address"

    def kill(self) -> None:
        """Stop without warning, as a laptop whose lid falls shut."""
        self.process.kill()
        self.process.wait(10)
        self.process.stdout.close()

    def again(self) -> Server:
        """Return a new server on the same port and folder, after `kill`."""
        return Server(self.folder, port=int(self.url.rsplit(":", 1)[1]))

    def stop(self) -> None:
        self.process.terminate()
        self.process.wait(10)
        self.process.stdout.close()


@pytest.fixture(scope="session")
def playwright_engine():
    with sync_playwright() as playwright:
        yield playwright


@pytest.fixture(scope="session")
def browser(playwright_engine):
    running = playwright_engine.chromium.launch(executable_path=chromium_path(), args=FLAGS)
    yield running
    running.close()


@pytest.fixture
def server(tmp_path):
    running = Server(tmp_path / "data")
    yield running
    running.stop()


@pytest.fixture
def demo_server(tmp_path):
    running = Server(tmp_path / "data", "demo")
    yield running
    running.stop()


@pytest.fixture
def phone(browser):
    """A page at phone size that fails the test on any script error or refused request."""
    context = browser.new_context(viewport=PHONE, device_scale_factor=2, has_touch=True, is_mobile=True)
    page = context.new_page()
    page.set_default_timeout(8000)
    trouble: list[str] = []
    page.on("pageerror", lambda error: trouble.append(f"script: {error}"))
    page.on("console", lambda message: trouble.append(f"console: {message.text}") if "Content Security Policy" in message.text else None)
    yield page
    context.close()
    assert not trouble, trouble


@pytest.fixture
def laptop(tmp_path):
    """A laptop whose process can be killed and started again on the same port."""
    running = [Server(tmp_path / "data", port=free_port())]

    class Laptop:
        url = running[0].url

        def kill(self):
            running[-1].kill()

        def start(self):
            running.append(running[-1].again())

    yield Laptop()
    if running[-1].process.poll() is None:
        running[-1].stop()


@pytest.fixture
def phones(browser):
    """Make phones: each a browser profile of its own."""
    contexts = []

    def make(name: str):
        context = browser.new_context(viewport=PHONE, device_scale_factor=2, has_touch=True, is_mobile=True)
        contexts.append(context)
        page = context.new_page()
        page.set_default_timeout(10_000)
        page.on("pageerror", lambda error: pytest.fail(f"script: {error}"))
        page.add_init_script(f"try {{ localStorage.setItem('who', {json.dumps(name)}); }} catch {{}}")
        return page

    yield make
    for context in contexts:
        context.close()


@pytest.fixture
def shot():
    """Keep a screenshot under artefacts/screens, whole page."""
    SCREENS.mkdir(parents=True, exist_ok=True)

    def keep(page, name: str, whole: bool = True) -> None:
        page.screenshot(path=str(SCREENS / f"{name}.png"), full_page=whole, scale="css")

    return keep
