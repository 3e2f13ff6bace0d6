"""Speed, side by side: `make bench`. Figures are medians; nothing here asserts."""

from __future__ import annotations

import gzip
import json
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]


def median_ms(work: Callable[[], object], times: int = 50) -> float:
    """Return the median time of `work` in milliseconds."""
    taken = []
    for _ in range(times):
        start = time.perf_counter()
        work()
        taken.append((time.perf_counter() - start) * 1000)
    return statistics.median(taken)


def cold_start() -> float:
    """Return milliseconds from starting the command to its first answer over HTTP."""
    import urllib.request

    with tempfile.TemporaryDirectory() as folder:
        start = time.perf_counter()
        process = subprocess.Popen([sys.executable, "-m", "fieldapp.cli", "serve", "--port", "0", "--data", folder],
                                   cwd=ROOT, stdout=subprocess.PIPE, text=True)  # fmt: skip
        try:
            url = next(line.split()[-1] for line in process.stdout if "http://localhost" in line)
            urllib.request.urlopen(f"{url}api/health").read()
            return (time.perf_counter() - start) * 1000
        finally:
            process.terminate()
            process.wait()
            process.stdout.close()


def page_weight() -> tuple[float, float]:
    """Return the page's kilobytes, plain and gzipped, without the scanner."""
    files = [p for p in (ROOT / "static").rglob("*") if p.suffix in (".js", ".css", ".html", ".svg", ".webmanifest") and "zxing" not in str(p)]
    raw = [p.read_bytes() for p in files]
    return sum(map(len, raw)) / 1000, sum(len(gzip.compress(part)) for part in raw) / 1000


def hundred_labels() -> None:
    """Print 100 different tags to A4 sheets, their codes drawn anew."""
    from core.tag import TagEssentials, make_id
    from fieldapp.labels import Tag, modules, tag_pdf

    modules.cache_clear()
    tags = [Tag(TagEssentials(make_id(n), "1.625 x .120 1020 DOM", "1.875 x .120 1020 DOM", "pointed", "60", "8-1/8 in", "2026-11-25", "outer sleeve")) for n in range(100)]
    tag_pdf(tags, "a4")


def main() -> None:
    """Print the table."""
    from core.drawing import sleeve_drawing
    from core.size_input import EXAMPLE
    from core.sizing import size
    from fieldapp import create_app
    from fieldapp.config import Settings

    body = json.loads(EXAMPLE)
    rows = [("python -c pass", median_ms(lambda: subprocess.run([sys.executable, "-c", "pass"], check=True), 5)),
            ("cold start to first answer", statistics.median(cold_start() for _ in range(3))),
            ("size one sleeve", median_ms(lambda: size(body))), ("draw it", median_ms(lambda: sleeve_drawing(body)))]  # fmt: skip
    with tempfile.TemporaryDirectory() as folder:
        app = create_app(Settings(Path(folder)))
        client = app.test_client()
        job = client.post("/api/jobs", json={"title": "Bench", "who": "Bench"}).get_json()
        rows.append(("GET /api/health", median_ms(lambda: client.get("/api/health"))))
        rows.append(("POST /api/size", median_ms(lambda: client.post("/api/size", json=body))))
        rows.append(("GET a job", median_ms(lambda: client.get(f"/api/jobs/{job['id']}"))))
        rows.append(("POST a job, on disk", median_ms(lambda: client.post("/api/jobs", json={"title": "Bench", "who": "Bench"}))))
        app.extensions["pitsplice-store"].close()
    rows.append(("100 tags on A4, PDF", median_ms(hundred_labels, 3)))
    base = rows[0][1]
    for name, ms in rows:
        print(f"{name:<30}{ms:>10.2f} ms{ms / base:>9.3f} x a bare Python start")
    raw, zipped = page_weight()
    print(f"{'page without the scanner':<30}{raw:>10.1f} kB{zipped:>9.1f} kB gzipped")


if __name__ == "__main__":
    main()
