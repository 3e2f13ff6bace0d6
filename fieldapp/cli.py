"""The `pitsplice` command. Flask and the store are imported only by the parts that need them."""

from __future__ import annotations

import argparse
import json
import os
import signal
import sys
import threading
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import TYPE_CHECKING

from core.problems import Problem
from fieldapp import __version__, cli_data

if TYPE_CHECKING:
    from fieldapp.config import Settings

EXAMPLES = """\
examples:
  pitsplice serve                     this laptop only, at http://localhost:8750
  pitsplice serve --lan               phones on the same network too
  pitsplice demo                      a made-up car to try, in a folder of its own
  pitsplice size < job.json           size one splice, no server
  pitsplice cuts < cuts.json          plan the saw over bars and remnants
  pitsplice template job.pdf < job.json   1:1 wrap template (.pdf, .svg or .dxf)
  pitsplice export ./race-weekend     all data in one folder, readable without this program
  pitsplice import ./race-weekend     take in an export, such as another laptop's
  pitsplice backup                    make a checked backup now
  pitsplice restore                   go back to the newest good backup
"""
PORT = 8750


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
        part.add_argument("--data", type=Path, help="data folder; a folder of your user account if left out")
        part.add_argument("--no-qr", action="store_true", help="print no QR code for phones")
        part.add_argument("--host", action="append", default=[], metavar="NAME", help="answer to this host name too")
        part.set_defaults(run=run)

    part = parts.add_parser("size", help="size one splice: JSON in on stdin, JSON out on stdout",
                            description="Size one splice. Exit code 2 and a problem on stderr for input it cannot use.")  # fmt: skip
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


def default_data_dir() -> Path:
    """Return the data folder of the user account."""
    from platformdirs import user_data_path

    return user_data_path("pitsplice", appauthor=False)


def _serve(ask: argparse.Namespace) -> int:
    from fieldapp.config import Settings

    data = ask.data or default_data_dir() / "data"
    return _run(Settings(data, lan=ask.lan, allowed_hosts=tuple(ask.host)), ask)


def _demo(ask: argparse.Namespace) -> int:
    from fieldapp.config import Settings

    data = ask.data or default_data_dir() / "demo"
    return _run(Settings(data, demo=True, lan=ask.lan, allowed_hosts=tuple(ask.host)), ask)


def _run(settings: Settings, ask: argparse.Namespace) -> int:
    from cheroot import wsgi

    from fieldapp import create_app
    from fieldapp.security import lan_addresses

    app = create_app(settings)
    store = app.extensions["pitsplice-store"]
    if settings.demo:
        load_demo(store)
    # All addresses with --lan: a laptop changes networks without a restart.
    server = wsgi.Server(("0.0.0.0" if settings.lan else "127.0.0.1", ask.port), app, numthreads=8)
    server.shutdown_timeout = 3
    try:
        server.prepare()
    except OSError as error:
        store.close()
        raise Problem("port-taken", f"The server cannot use this port: {error}", given=str(ask.port),
                      allowed="a port no other program uses.",
                      next_step="Stop the other program, or choose another with --port.") from error  # fmt: skip
    port = server.bind_addr[1]
    _say(f"Data folder: {settings.data_dir}")
    _say(f"On this laptop: http://localhost:{port}/")
    if settings.lan:
        addresses = [a for a in lan_addresses() if ":" not in a]
        _say("Open to everyone on this network. Use a network you trust.")
        for address in addresses:
            _say(f"On phones:      http://{address}:{port}/")
        if addresses and not ask.no_qr:
            _print_qr(f"http://{addresses[0]}:{port}/")
    for line in (*store.told, *app.extensions["pitsplice-rules"].lines()):
        _say(line)
    backups = app.extensions["pitsplice-backups"]
    backups.start()
    _say("Stop with Ctrl-C.")

    # An exception raised by a signal handler can be lost inside the server's loop; a stop from
    # another thread is not.
    stopping = threading.Thread(target=server.stop)

    def stop(number: int, frame: object) -> None:
        with suppress(RuntimeError):
            stopping.start()

    for number in (signal.SIGINT, signal.SIGTERM):
        signal.signal(number, stop)
    try:
        server.serve()
    finally:
        server.stop()
        if stopping.ident:
            stopping.join()
        backups.stop()
        store.close()
    _say("Stopped.")
    return 0


def _print_qr(address: str) -> None:
    import qrcode

    code = qrcode.QRCode(border=2)
    code.add_data(address)
    try:
        code.print_ascii(out=sys.stdout, invert=True)
    except UnicodeEncodeError:
        _say("(This terminal cannot show the QR code. Type the address instead.)")


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

    result = services.size(read_object(sys.stdin.buffer.read()))
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
