"""The photo scanner reads a tag in Chromium, from this server alone."""

from __future__ import annotations

import hashlib
import io
import re
import threading
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

import numpy
import pytest
from PIL import Image, ImageDraw, ImageFilter

from core.tag import TagEssentials, make_id, payload
from fieldapp.labels import modules

ROOT = Path(__file__).resolve().parents[2]
VENDOR = ROOT / "static" / "vendor"
PAGE = b"""<!doctype html><html lang="en"><title>Scanner</title><link rel="icon" href="data:,">
<input type="file" id="photo"><output id="text"></output>
<script type="module">
import { readTagFromFile } from "/static/js/scanner.js";
window.said = [];
window.done = 0;
document.getElementById("photo").addEventListener("change", async (event) => {
  let text;
  try {
    text = JSON.stringify(await readTagFromFile(event.target.files[0], (says, part) => window.said.push([says, part])));
  } catch (error) {
    text = `Error: ${error.message}`;
  }
  document.getElementById("text").textContent = text;
  window.done += 1;
});
window.ready = true;
</script>"""
VIEW = b"""<!doctype html><html lang="en"><title>View</title><link rel="icon" href="data:,"><div id="app"></div>
<script type="module">
import { html, render, Fragment, useState, useEffect, useRef, useMemo }
  from "/static/vendor/preact-htm/standalone.module.js";
function Count() {
  const [count, setCount] = useState(1);
  const doubled = useMemo(() => count * 2, [count]);
  const effects = useRef(0);
  useEffect(() => { effects.current += 1; document.title = `effect ${effects.current}`; }, [count]);
  return html`<${Fragment}><button onClick=${() => setCount(count + 1)}>${count} ${doubled}</button><//>`;
}
render(html`<${Count} />`, document.getElementById("app"));
</script>"""


class Handler(SimpleHTTPRequestHandler):
    extensions_map = {**SimpleHTTPRequestHandler.extensions_map, ".js": "text/javascript", ".wasm": "application/wasm"}  # noqa: RUF012

    def do_GET(self):
        page = {"/": PAGE, "/view": VIEW}.get(self.path)
        if page is None:
            return super().do_GET()
        self.send_response(200)
        self.send_header("Content-Type", "text/html; charset=utf-8")
        self.send_header("Content-Length", str(len(page)))
        self.end_headers()
        return self.wfile.write(page)

    def log_message(self, *_):
        pass


@pytest.fixture(scope="module")
def origin():
    server = ThreadingHTTPServer(("127.0.0.1", 0), partial(Handler, directory=str(ROOT)))
    thread = threading.Thread(target=server.serve_forever, daemon=True)
    thread.start()
    yield f"http://127.0.0.1:{server.server_port}"
    server.shutdown()
    server.server_close()
    thread.join()


@pytest.fixture
def page(browser, origin):
    context = browser.new_context()
    page = context.new_page()
    page.asked, page.errors = [], []
    page.on("request", lambda request: page.asked.append(request.url))
    page.on("pageerror", lambda error: page.errors.append(str(error)))
    page.goto(origin)
    page.wait_for_function("window.ready")
    yield page
    assert page.errors == []
    # blob: and data: stay inside the page.
    assert [url for url in page.asked if not url.startswith((origin, "blob:", "data:"))] == []
    context.close()


def tag_text(number: int = 987654321) -> str:
    return payload(TagEssentials(make_id(number), "1.625 × .120 DOM 1020", "1.875 × .120 DOM 1020", "pointed", "60",
                                 "8-1/8 in", "2026-11-25", "outer sleeve"))  # fmt: skip


def symbol(text: str, scale: int) -> Image.Image:
    rows = modules(text)
    image = Image.new("L", ((len(rows) + 8) * scale,) * 2, 255)
    for y, row in enumerate(rows):
        for run in re.finditer("1+", row):
            box = ((run.start() + 4) * scale, (y + 4) * scale, (run.end() + 4) * scale - 1, (y + 5) * scale - 1)
            ImageDraw.Draw(image).rectangle(box, fill=0)
    return image


def photo(text: str, angle: float, scale: float, size: tuple[int, int] = (1500, 1100)) -> Image.Image:
    """Return the tag turned, scaled, on a grey bench, with dim uneven light, blur and sensor noise."""
    code = symbol(text, 8)
    code = code.resize([round(side * scale) for side in code.size], Image.Resampling.BICUBIC)
    code = code.rotate(angle, expand=True, fillcolor=255, resample=Image.Resampling.BICUBIC)
    bench = Image.new("L", size, 150)
    bench.paste(code, ((size[0] - code.width) // 2, (size[1] - code.height) // 2))
    light = numpy.linspace(0.55, 0.95, size[0])[None, :]
    noise = numpy.random.default_rng(4).normal(0, 14, (size[1], size[0]))
    grey = numpy.asarray(bench.filter(ImageFilter.GaussianBlur(1.0)), dtype=float) * light + noise
    return Image.fromarray(grey.clip(0, 255).astype("uint8"))


def give(page, image: Image.Image | bytes, kind: str = "PNG", **options) -> str:
    content = image
    if isinstance(image, Image.Image):
        out = io.BytesIO()
        image.save(out, kind, **options)
        content = out.getvalue()
    before = page.evaluate("window.done")
    file = {"name": f"tag.{kind.lower()}", "mimeType": f"image/{kind.lower()}", "buffer": content}
    page.set_input_files("#photo", [file])
    page.wait_for_function(f"window.done > {before}")
    return page.text_content("#text")


@pytest.mark.browser
def test_a_turned_noisy_photo_is_read_and_the_reader_loads_only_then(page):
    assert not any("zxing" in url for url in page.asked)
    assert give(page, photo(tag_text(), angle=20, scale=0.9)) == f'"{tag_text()}"'
    assert sum(url.endswith("zxing_reader.wasm") for url in page.asked) == 1
    says, parts = zip(*page.evaluate("window.said"), strict=True)
    assert says[0] == "Opening the photo"
    assert list(parts) == sorted(parts)
    assert 0 == parts[0] < parts[-1] <= 1
    # A second photo uses the reader that is there.
    assert give(page, photo(tag_text(2), angle=-70, scale=0.7)) == f'"{tag_text(2)}"'
    assert sum(url.endswith("zxing_reader.wasm") for url in page.asked) == 1


@pytest.mark.browser
def test_a_small_tag_in_a_large_sideways_photo_is_read(page):
    # 4000 x 3000 is a common phone photo; at 1600 px these modules are 1.3 px, so the full size is needed.
    image = photo(tag_text(), angle=20, scale=0.4, size=(4000, 3000))
    exif = Image.Exif()
    exif[0x0112] = 6  # published: Exif orientation 6, turn a quarter clockwise
    assert give(page, image, "JPEG", quality=85, exif=exif) == f'"{tag_text()}"'


@pytest.mark.browser
def test_the_tag_wins_over_another_code_in_the_picture(page):
    both = Image.new("L", (1000, 520), 255)
    both.paste(symbol("HTTP://OTHER.EXAMPLE/1", 8), (20, 60))
    both.paste(symbol(tag_text(), 8), (500, 60))
    assert give(page, both) == f'"{tag_text()}"'
    assert give(page, both.crop((0, 0, 490, 520))) == '"HTTP://OTHER.EXAMPLE/1"'


@pytest.mark.browser
def test_no_code_gives_null_and_no_photo_says_what_to_do(page):
    assert give(page, photo(tag_text(), angle=0, scale=0.02)) == "null"
    assert give(page, b"not a picture") == (
        "Error: This file is not a photo the phone can open. Take a photo of the tag."
    )


@pytest.mark.browser
def test_a_reader_that_did_not_load_says_so_and_loads_the_next_time(page):
    page.route("**/zxing_reader.wasm", lambda route: route.abort())
    assert give(page, photo(tag_text(), 0, 0.9)) == (
        "Error: The code reader did not load. Type the id beside the code instead."
    )
    page.unroute("**/zxing_reader.wasm")
    assert give(page, photo(tag_text(), 0, 0.9)) == f'"{tag_text()}"'


@pytest.mark.browser
def test_the_view_library_draws_and_reacts(page, origin):
    page.goto(f"{origin}/view")
    assert page.text_content("button") == "1 2"
    page.click("button")
    page.wait_for_function("document.querySelector('button').textContent === '2 4' && document.title === 'effect 2'")


def test_the_list_of_vendored_files_is_whole_and_true():
    listed = dict(re.findall(r"^\| `([^`]+)` \| `([0-9a-f]{64})` \|$", (VENDOR / "README.md").read_text(), re.M))
    files = [path for path in VENDOR.rglob("*") if path.is_file() and path.name != "README.md"]
    assert listed == {str(p.relative_to(VENDOR)): hashlib.sha256(p.read_bytes()).hexdigest() for p in files}
    # published: the package names the digest of its own wasm.
    assert f'"{listed["zxing-wasm/zxing_reader.wasm"]}"' in (VENDOR / "zxing-wasm/reader/index.js").read_text()


def test_no_script_names_an_outside_address():
    # XML namespaces are names, never fetched; idb names a page in a comment.
    names = {"https://github.com/microsoft/TypeScript-DOM-lib-generator/pull/1405", "http://www.w3.org/2000/svg", "http://www.w3.org/1998/Math/MathML", "http://www.w3.org/1999/xhtml"}
    for script in [*VENDOR.rglob("*.js"), ROOT / "static/js/scanner.js"]:
        assert set(re.findall(r"https?://[^\s\"'`]+", script.read_text())) <= names
