"""The `pitsplice` command. Flask and the store are imported only by the parts that need them."""

from __future__ import annotations

import argparse
import json
import os
import re
import sys
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

from core.problems import Problem
from fieldapp import __version__, cli_data

if TYPE_CHECKING:
    from fieldapp.config import Settings

EXAMPLES = """\
examples:
  pitsplice serve                     this laptop only, at http://localhost:8750
  pitsplice serve --lan               phones on the same network too, once paired
  pitsplice demo                      a made-up car to try, in a folder of its own
  pitsplice size < job.json           size one splice, no server
  pitsplice cuts < cuts.json          plan the saw over bars and remnants
  pitsplice template job.pdf < job.json   1:1 wrap template (.pdf, .svg or .dxf)
  pitsplice export ./race-weekend     all data in one folder, readable without this program
  pitsplice import ./race-weekend     take in an export, such as another laptop's
  pitsplice backup                    make a checked backup now
  pitsplice restore                   go back to the newest good backup
"""
PORT, HTTPS_PORT = 8750, 8743


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command and return its exit code: 0 done, 2 what was given cannot be used."""
    ask = _parser().parse_args(arguments)
    try:
        return ask.run(ask)
    except Problem as problem:
        return _tell(problem)


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="pitsplice",
        description="Plan, check, record and prove welded sleeve splices in round steel tubing.",
        epilog=EXAMPLES,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument("--version", action="version", version=f"pitsplice {__version__}")
    parts = parser.add_subparsers(required=True, metavar="{serve,demo,size,cuts,template,export,import,backup,restore}")

    for name, run, told in (
        ("serve", _serve, "run the server on this laptop"),
        ("demo", _demo, "run the server with made-up data, in a folder of its own"),
    ):
        part = parts.add_parser(name, help=told, description=told)
        part.add_argument(
            "--lan", action="store_true", help="let phones on the same network in; without it, this laptop only"
        )
        part.add_argument("--port", type=_port, default=PORT, help=f"port, {PORT} if left out; 0 picks a free one")
        part.add_argument("--https-port", type=_port, default=HTTPS_PORT, metavar="PORT",
                          help=f"port of HTTPS with --lan, {HTTPS_PORT} if left out; 0 picks a free one")  # fmt: skip
        part.add_argument("--origin", type=_origin, metavar="URL",
                          help="secure address for phones, https://name:port, if it is not this laptop's own")  # fmt: skip
        part.add_argument("--data", type=Path, help="data folder; a folder of your user account if left out")
        part.add_argument("--no-qr", action="store_true", help="print no QR code for phones")
        part.add_argument("--host", action="append", default=[], metavar="NAME", help="answer to this host name too")
        part.set_defaults(run=run)

    part = parts.add_parser("size", help="size one splice: JSON in on stdin, JSON out on stdout",
                            description="Size one splice. Exit code 2 and a problem on stderr for input it cannot use.")  # fmt: skip
    part.add_argument("--rules", type=Path, metavar="DIR", help="folder with the shop's rule sheet, for a job that names a member")
    part.set_defaults(run=_size)

    part = parts.add_parser("cuts", help="plan cuts over bars and remnants: JSON in on stdin, JSON out on stdout",
                            description="Plan cuts. Exit code 2 and a problem on stderr for input it cannot use.")  # fmt: skip
    part.set_defaults(run=_cuts)

    part = parts.add_parser("template", help="write the 1:1 wrap template of one splice: JSON in on stdin",
                            description="Write a wrap template. Print it at 100 % and measure its check bar.")  # fmt: skip
    part.add_argument("target", type=Path, metavar="FILE", help="ends in .pdf, .svg or .dxf")
    part.add_argument("--sheet", choices=("a4", "letter"), default="a4", help="paper of a .pdf, a4 if left out")
    part.set_defaults(run=_template)

    part = parts.add_parser("export", help="write all data into one new folder",
                            description="Write all data into one new folder: JSON, CSV, and records as pages.")  # fmt: skip
    part.add_argument("target", type=Path, metavar="DIR", help="a folder that is not there yet, or an empty one")
    part.add_argument("--data", type=Path, help="data folder; a folder of your user account if left out")
    part.set_defaults(run=_export)
    cli_data.add_commands(parts, default_data_dir)
    return parser


def _port(text: str) -> int:
    if not (text.isascii() and text.isdigit() and int(text) <= 65535):
        raise argparse.ArgumentTypeError(f"{text!r} is no port; give a whole number, 0 to 65535")
    return int(text)


def _origin(text: str) -> str:
    if not re.fullmatch(r"https://[a-z0-9]([a-z0-9.-]*[a-z0-9])?(:\d{1,5})?", text, re.ASCII):
        raise argparse.ArgumentTypeError(f"{text!r} is no secure origin; give https://name or https://name:port, lower case, no path")
    return text


def default_data_dir() -> Path:
    """Return the data folder of the user account."""
    from platformdirs import user_data_path

    return user_data_path("pitsplice", appauthor=False)


def _serve(ask: argparse.Namespace) -> int:
    from fieldapp.config import Settings

    data = ask.data or default_data_dir() / "data"
    return _run(Settings(data, lan=ask.lan, allowed_hosts=_hosts(ask)), ask)


def _demo(ask: argparse.Namespace) -> int:
    from fieldapp.config import Settings

    data = ask.data or default_data_dir() / "demo"
    return _run(Settings(data, demo=True, lan=ask.lan, allowed_hosts=_hosts(ask)), ask)


def _hosts(ask: argparse.Namespace) -> tuple[str, ...]:
    named = re.sub(r"^https://|:\d+$", "", ask.origin or "")
    return tuple(name for name in (*ask.host, named) if name)


def _run(settings: Settings, ask: argparse.Namespace) -> int:
    from fieldapp.serve import serve

    return serve(settings, port=ask.port, https_port=ask.https_port, origin=ask.origin or "", show_qr=not ask.no_qr, say=_say,
                 prepare=load_demo if settings.demo else None)  # fmt: skip


def load_demo(store: object) -> None:
    """Put the demo's jobs and stock into an empty store; a store with jobs is left as it is."""
    from fieldapp import demo
    from fieldapp.store import jobs

    with store.read() as db:
        empty = not jobs.every(db)
    if empty:
        demo.load(store)


def _size(ask: argparse.Namespace) -> int:
    from fieldapp import services
    from fieldapp.strict_json import read_object

    sheet = None
    if ask.rules:
        from fieldapp.rule_sheet import load

        loaded = load(ask.rules)
        if loaded.problem:
            raise loaded.problem
        sheet = loaded.sheet
    result = services.size(read_object(sys.stdin.buffer.read()), sheet)
    print(json.dumps(result, indent=2, allow_nan=False))
    return 0


def _cuts(ask: argparse.Namespace) -> int:
    from fieldapp import services
    from fieldapp.strict_json import read_object

    data = read_object(sys.stdin.buffer.read())
    with _library_output_on_stderr():
        result = services.cuts(data)
    print(json.dumps(result, indent=2, allow_nan=False))
    return 0


@contextmanager
def _library_output_on_stderr() -> Iterator[None]:
    """Send what the solver's library prints by itself to standard error: standard output is JSON only."""
    sys.stdout.flush()
    kept = os.dup(1)
    try:
        os.dup2(2, 1)
        yield
    finally:
        os.dup2(kept, 1)
        os.close(kept)


def _template(ask: argparse.Namespace) -> int:
    from fieldapp import services
    from fieldapp.strict_json import read_object

    kind = ask.target.suffix.lower().lstrip(".")
    if kind not in ("pdf", "svg", "dxf"):
        raise Problem("bad-choice", "That is not a kind of template file.", given=ask.target.name, allowed="a name ending in .pdf, .svg or .dxf.",
                      next_step="Give the file another ending.")  # fmt: skip
    content, _ = services.template(read_object(sys.stdin.buffer.read()), kind, ask.sheet)
    try:
        ask.target.write_bytes(content)
    except OSError as error:
        raise Problem("not-saved", f"The file cannot be written: {error.strerror}", given=str(ask.target), allowed="a folder you may write to.",
                      next_step="Choose another place.") from error  # fmt: skip
    _say(f"{ask.target}: print at 100 % and measure the check bar.")
    return 0


def _export(ask: argparse.Namespace) -> int:
    from fieldapp.backups import existing
    from fieldapp.export import export

    store = existing(ask.data or default_data_dir() / "data")
    try:
        count = export(store, ask.target)
    finally:
        store.close()
    _say(f"{count} files in {ask.target}. Open index.html there in a browser.")
    return 0


def _say(line: str) -> None:
    print(line, flush=True)


def _tell(problem: Problem) -> int:
    print(json.dumps(problem.as_dict(), indent=2), file=sys.stderr)
    return 2


if __name__ == "__main__":
    sys.exit(main())
