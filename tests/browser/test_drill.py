"""The drill: a paired phone over HTTPS, the server killed, the checklist finished, the server back."""

from __future__ import annotations

from types import SimpleNamespace

import pytest

from tests.browser.conftest import PHONE
from tests.browser.flow import look, walk_checklist
from tests.browser.pit import ask, chip, free_port, job_to_weld, mark, open_weld, send_now
from tests.browser.test_offline_more import camera_picture
from tests.browser.test_phones import chromium_of_a_phone, needs_network
from tests.lan import Lan

pytestmark = [pytest.mark.browser, needs_network]
PICTURE = {"name": "IMG_0002.jpg", "mimeType": "image/jpeg"}

# The laptop takes it, the phone never hears: the photo and some of the marks, in whatever tab they are sent.
CUT = """
const through = window.fetch;
window.fetch = async (address, how) => {
  const answer = await through(address, how);
  const kind = String(address).match(/\\/(step|photo)s(\\?|$)/)?.[1];
  const had = (localStorage.cut ?? "").split(" ").filter(Boolean);
  if (how?.method === "POST" && kind && answer.ok && had.filter((one) => one === kind).length < { photo: 1, step: 4 }[kind]) {
    localStorage.cut = [...had, kind].sort().join(" ");
    throw new TypeError("the answer was cut off");
  }
  return answer;
};
"""


class Pits:
    """A laptop with --lan that comes back on the same ports, and a phone that trusts it."""

    def __init__(self, browser, folder) -> None:
        self.folder, self.ports = folder / "data", (free_port(), free_port())
        self.laptop = SimpleNamespace(url=f"http://localhost:{self.ports[0]}")
        self.start()
        self.chromium = chromium_of_a_phone(browser, folder / "home", self.lan.authority)
        self.context = self.chromium.new_context(viewport=PHONE, has_touch=True, is_mobile=True)
        self.page = self.context.new_page()
        self.page.set_default_timeout(15_000)

    def start(self) -> None:
        self.lan = Lan(self.folder, "--port", str(self.ports[0]), "--https-port", str(self.ports[1]))

    def kill(self) -> None:
        self.lan.process.kill()
        self.lan.process.wait(10)
        self.lan.process.stdout.close()

    def pair(self) -> str:
        """Pair the phone as a welder's and return the secure origin."""
        made = ask(self.laptop, "POST", "/api/pairings", {"role": "weld", "name": "Robin"})
        self.page.goto(made["url"])
        self.page.fill("#phone", "Robin")
        self.page.get_by_role("button", name="Pair this phone").click()
        self.page.get_by_role("heading", name="This phone is paired").wait_for()
        return made["url"].partition("/pair")[0]

    def arrived(self, job: str) -> tuple[list[str], list[str], int]:
        """Return the steps done, the checklist's steps, and how many photos the laptop has."""
        found = ask(self.laptop, "GET", f"/api/jobs/{job}")
        groups = ask(self.laptop, "GET", f"/api/jobs/{job}/checklist")["checklist"]["groups"]
        done = [event["step"] for event in found["steps"] if event["action"] == "done"]
        return done, [step["key"] for group in groups for step in group["steps"]], len(found["photos"])

    def close(self) -> None:
        self.chromium.close()
        if self.lan.process.poll() is None:
            assert self.lan.stop() == 0


@pytest.fixture
def pits(browser, tmp_path):
    made = Pits(browser, tmp_path)
    yield made
    made.close()


def mark_some(page) -> int:
    """Do the first eight steps, which take no reading; return how many."""
    for _ in range(8):
        mark(page)
    return 8


def finish_alone(pits, walk=walk_checklist) -> int:
    """Reload with the server dead, do every step and one photo; return the number of steps done here."""
    page = pits.page
    page.reload()
    page.locator(".stepcard").wait_for()
    chip(page, "Laptop out of reach")
    page.set_input_files("input[type=file]", {**PICTURE, "buffer": camera_picture()})
    page.locator(".thumbs img").wait_for()
    return walk(page)


def test_the_checklist_is_finished_with_the_server_killed_and_arrives_once(pits, shot):
    origin = pits.pair()
    job = job_to_weld(pits.laptop)
    open_weld(pits.page, origin, job)
    assert pits.page.evaluate("isSecureContext && location.protocol") == "https:"
    mark(pits.page)
    chip(pits.page, "All sent")
    pits.kill()
    alone = finish_alone(pits)
    chip(pits.page, f"{alone + 1} not sent")
    look(pits.page, shot, "48-drill-finished-alone")
    # Closed and opened again, still without the server: a cold start from the phone.
    pits.page.goto("about:blank")
    pits.page.goto(f"{origin}/job/{job}/weld")
    chip(pits.page, f"{alone + 1} not sent")
    pits.start()
    send_now(pits.page, origin)
    chip(pits.page, "All sent")
    done, steps, photos = pits.arrived(job)
    assert (done, photos) == (steps, 1)
    assert alone == len(steps) - 1
    # And the record can be sealed from what arrived.
    assert ask(pits.laptop, "POST", f"/api/jobs/{job}/seal", {"who": "Crew chief"})["intact"]


def test_marks_and_a_photo_with_their_answers_cut_off_arrives_once(pits):
    origin = pits.pair()
    job = job_to_weld(pits.laptop)
    open_weld(pits.page, origin, job)
    pits.kill()
    some = finish_alone(pits, mark_some)
    pits.context.add_init_script(CUT)
    pits.start()
    for _ in range(6):
        send_now(pits.page, origin)
        pits.page.wait_for_timeout(300)
    chip(pits.page, "All sent")
    assert pits.page.evaluate("localStorage.cut") == "photo step step step step"
    done, steps, photos = pits.arrived(job)
    assert (done, photos) == (steps[:some], 1)
