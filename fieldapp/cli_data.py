"""The commands that care for the data: import, backup, restore."""

from __future__ import annotations

import argparse
from collections.abc import Callable
from pathlib import Path

from core.problems import Problem

WORDS = {
    "job": "jobs", "job_section": "section revisions", "section_conflict": "section revisions beside the newest",
    "step_event": "step marks", "record": "records", "amendment": "corrections", "stock_item": "bars",
    "stock_move": "stock moves", "stock_change": "stock changes", "photo": "photos", "operation": "kept answers",
}  # fmt: skip
FOLDER_HELP = "data folder; a folder of your user account if left out"


def add_commands(parts: argparse._SubParsersAction, default_data_dir: Callable[[], Path]) -> None:
    """Add the commands; `default_data_dir` tells where the data is if nobody says."""

    def add(name: str, run: Callable[[argparse.Namespace, Path], None], told: str, more: str) -> argparse.ArgumentParser:
        def run_there(ask: argparse.Namespace) -> int:
            run(ask, ask.data or default_data_dir() / "data")
            return 0

        part = parts.add_parser(name, help=told, description=more)
        part.add_argument("--data", type=Path, help=FOLDER_HELP)
        part.set_defaults(run=run_there)
        return part

    part = add("import", _import, "take in an export, such as another laptop's",
               "Take in an export folder. What is here stays; what is new is added. A second time changes nothing.")  # fmt: skip
    part.add_argument("source", type=Path, metavar="DIR", help="a folder that pitsplice export wrote")
    add("backup", _backup, "make a checked backup now", "Make a backup. The server may be running. It is checked to the last row.")  # fmt: skip
    part = add("restore", _restore, "go back to a backup",
               "Put a backup in the place of the data file, which is moved aside. Stop the server first.")  # fmt: skip
    part.add_argument("source", type=Path, nargs="?", metavar="FILE", help="the backup; the newest good one if left out")


def _import(ask: argparse.Namespace, data: Path) -> None:
    from fieldapp.backups import open_store
    from fieldapp.merge import import_folder

    store = open_store(data)
    try:
        print(f"Backup before the import: {store.backup()}", flush=True)
        report = import_folder(store, ask.source)
    finally:
        store.close()
    for line in report.told:
        print(f"LOOK: {line}")
    print(f"Added: {', '.join(f'{count} {WORDS.get(name, name)}' for name, count in sorted(report.added.items())) or 'nothing'}.", flush=True)


def _backup(ask: argparse.Namespace, data: Path) -> None:
    from fieldapp.backups import existing

    store = existing(data)
    try:
        print(store.backup(), flush=True)
    finally:
        store.close()


def _restore(ask: argparse.Namespace, data: Path) -> None:
    from fieldapp.backups import ASIDE, restore

    if not data.is_dir():
        raise Problem("no-data", "There is no such data folder.", given=str(data), allowed="a data folder that the server has used.",
                      next_step="Give it with --data.")  # fmt: skip
    used = restore(data, ask.source)
    print(f"Back at {used}.\nThe file that was there is kept in {data / ASIDE}.", flush=True)
