"""The soak from the command line: `make soak`."""

from __future__ import annotations

import argparse
import json
import sys
import tempfile
from pathlib import Path

from tests.soak.harness import run


def main() -> int:
    """Run it and return 1 if anything was lost or doubled."""
    parser = argparse.ArgumentParser(prog="python -m tests.soak", description="Kill the server and count.")
    parser.add_argument("--kills", type=int, default=1000)
    parser.add_argument("--seed", type=int, default=1)
    ask = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        counts = run(Path(folder), ask.kills, ask.seed, said=lambda line: print(line, file=sys.stderr, flush=True))
    print(json.dumps(counts, indent=1))
    bad = counts["lost"] or counts["doubled"] or counts["findings"] or counts["errors"] or counts["stopped"]
    return 1 if bad or counts["restored"] else 0


if __name__ == "__main__":
    sys.exit(main())
