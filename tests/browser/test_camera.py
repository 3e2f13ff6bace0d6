"""The live camera reads tags as a hand holds them, and nothing else, from a fake camera's feed."""

from __future__ import annotations

from pathlib import Path

import numpy
import pytest
from PIL import Image, ImageDraw, ImageFilter

from core.tag import TagEssentials, make_id, payload
from tests.browser.conftest import FLAGS, PHONE, Server, chromium_path
from tests.browser.flow import look, until
from tests.browser.pit import ask
from tests.browser.test_scanner import symbol

pytestmark = pytest.mark.browser
SIZE = (960, 720)


def on_bench(drawn: Image.Image) -> Image.Image:
    bench = Image.new("L", SIZE, 128)
    bench.paste(drawn, ((SIZE[0] - drawn.width) // 2, (SIZE[1] - drawn.height) // 2))
    return bench


def tilted(image: Image.Image) -> Image.Image:
    """Lean the far edge away: its width falls to 70 %, as seen from about 35 degrees."""
    wide, high = image.size
    ends = [(0.15 * wide, 0.08 * high), (0.85 * wide, 0.08 * high), (wide, high), (0, high)]
    starts = [(0, 0), (wide, 0), (wide, high), (0, high)]
    rows, known = [], []
    for (x, y), (u, v) in zip(ends, starts, strict=True):
        rows += [[x, y, 1, 0, 0, 0, -u * x, -u * y], [0, 0, 0, x, y, 1, -v * x, -v * y]]
        known += [u, v]
    return image.transform(image.size, Image.Transform.PERSPECTIVE, numpy.linalg.solve(rows, known), Image.Resampling.BICUBIC, fillcolor=128)


def noisy(image: Image.Image, seed: int) -> Image.Image:
    noise = numpy.random.default_rng(seed).normal(0, 9, (SIZE[1], SIZE[0]))
    return Image.fromarray((numpy.asarray(image, dtype=float) + noise).clip(0, 255).astype("uint8"))


def pale(image: Image.Image) -> Image.Image:
    """Black 120 on white 165: a quarter of the contrast, as in the shade of a wheel arch."""
    return image.point(lambda level: 120 + level * 45 // 255)


LOOKS = {
    "turned": lambda text: on_bench(symbol(text, 7).rotate(25, expand=True, fillcolor=255)),
    "upside_down": lambda text: on_bench(symbol(text, 7).rotate(190, expand=True, fillcolor=255)),
    "tilted": lambda text: tilted(on_bench(symbol(text, 9))),
    "blurred": lambda text: on_bench(symbol(text, 9)).filter(ImageFilter.GaussianBlur(3)),
    "low_contrast": lambda text: pale(on_bench(symbol(text, 7))),
    "small": lambda text: on_bench(symbol(text, 3)),
}


def feed(path: Path, picture: Image.Image) -> Path:
    """Write ten noisy frames as raw video (YUV4MPEG2, grey as 4:2:0 with flat colour)."""
    with path.open("wb") as out:
        out.write(f"YUV4MPEG2 W{SIZE[0]} H{SIZE[1]} F10:1 Ip A1:1 C420jpeg\n".encode())
        for number in range(10):
            out.write(b"FRAME\n" + noisy(picture, number).tobytes() + bytes([128]) * (SIZE[0] * SIZE[1] // 2))
    return path


@pytest.fixture(scope="module")
def place(tmp_path_factory):
    running = Server(tmp_path_factory.mktemp("camera") / "data", "demo")
    yield running
    running.stop()


@pytest.fixture
def pointed_at(playwright_engine, place, tmp_path):
    """Return a function that opens the finder with the camera seeing a picture."""
    opened = []

    def point(picture: Image.Image):
        video = feed(tmp_path / "camera.y4m", picture)
        browser = playwright_engine.chromium.launch(
            executable_path=chromium_path(),
            args=[*FLAGS, "--use-fake-device-for-media-stream", "--use-fake-ui-for-media-stream", f"--use-file-for-fake-video-capture={video}"],
        )
        opened.append(browser)
        page = browser.new_context(viewport=PHONE, device_scale_factor=1, has_touch=True, is_mobile=True).new_page()
        page.set_default_timeout(20000)
        page.goto(f"{place.url}/find")
        page.get_by_role("button", name="Point the camera at the tag").click()
        return page

    yield point
    for browser in opened:
        browser.close()


@pytest.fixture
def sealed_id(place):
    return next(job["id"] for job in ask(place, "GET", "/api/jobs")["jobs"] if job["state"] == "sealed")


def tag_of(record_id: str) -> str:
    return payload(TagEssentials(record_id, "1.625 × .120 DOM 1020", "1.875 × .120 DOM 1020", "pointed", "60",
                                 "8-1/8 in", "2026-11-25", "outer sleeve"), True)  # fmt: skip


@pytest.mark.parametrize("name", LOOKS)
def test_a_tag_before_the_camera_opens_its_record(pointed_at, sealed_id, name):
    page = pointed_at(LOOKS[name](tag_of(sealed_id)))
    page.wait_for_url(f"**/tag/{sealed_id}")
    page.get_by_text("Unchanged since it was sealed").wait_for()
    # The camera is let go with the screen.
    assert page.evaluate("document.querySelector('video')") is None


def test_a_tag_of_another_laptop_says_what_is_in_its_code(pointed_at, shot):
    page = pointed_at(LOOKS["turned"](tag_of(make_id(987654321))))
    page.get_by_role("heading", name="The code says").wait_for()
    told = page.locator("section", has=page.get_by_role("heading", name="The code says")).inner_text()
    assert "35HF-T2UD" in told and "1.875 × .120 DOM 1020" in told and "8-1/8 in" in told and "60°" in told
    assert "No record on this laptop has this id." in page.get_by_role("alert").inner_text()
    look(page, shot, "find_other_laptop")


def test_what_is_no_tag_finds_nothing_and_says_so(pointed_at, shot):
    page = pointed_at(on_bench(symbol("HTTP://OTHER.EXAMPLE/PART/1234", 7)))
    page.get_by_text("That code is not one of our tags. Still looking.").wait_for()
    until(page, "document.querySelector('video').videoWidth > 0")
    page.wait_for_timeout(1500)
    assert page.url.endswith("/find")
    look(page, shot, "find_camera")
    page.get_by_role("button", name="Close the camera").click()
    assert page.evaluate("document.querySelector('video')") is None


def test_a_bench_with_stripes_is_no_tag(pointed_at):
    bench = Image.new("L", SIZE, 128)
    draw = ImageDraw.Draw(bench)
    for x in range(200, 760, 14):
        draw.rectangle((x, 150, x + x % 9 + 2, 570), fill=0)
    page = pointed_at(bench)
    page.get_by_text("Looking for the code").wait_for()
    page.wait_for_timeout(3000)
    assert page.url.endswith("/find")
    assert page.get_by_text("Looking for the code").is_visible()


def test_a_refused_camera_leaves_the_photo_and_the_id(phone, place, shot):
    # No camera device here: what a phone without one, or with a person who says no, shows.
    phone.goto(f"{place.url}/find")
    phone.get_by_role("button", name="Point the camera at the tag").click()
    phone.get_by_role("alert").wait_for()
    assert "photo of the tag" in phone.get_by_role("alert").inner_text()
    look(phone, shot, "find_no_camera")
