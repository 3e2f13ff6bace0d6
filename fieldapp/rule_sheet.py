"""The shop's rule sheet, read from the data folder once, at start."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Any

from flask import current_app

from core.problems import Problem
from core.shop_rules import LONGEST_SHEET, RuleSheet, read_rule_sheet

FILES = {"rules.toml": "toml", "rules.csv": "csv"}


@dataclass(frozen=True)
class Loaded:
    """What was found: the sheet and its file name, or what is wrong with the file."""

    sheet: RuleSheet | None = None
    source: str = ""
    problem: Problem | None = None

    def as_dict(self) -> dict[str, Any]:
        """Return the JSON form, members in the sheet's order."""
        return {
            "members": list(self.sheet.members) if self.sheet else [],
            "source": self.source,
            "problem": self.problem.as_dict() if self.problem else None,
        }

    def lines(self) -> list[str]:
        """Return what the command says about it at start; nothing where there is no file."""
        if self.problem:
            every = (self.problem, *self.problem.others)
            return [f"Rule sheet {self.source} is not used: {one}" for one in every]
        return [f"Rule sheet: {self.source}, {len(self.sheet.members)} members"] if self.sheet else []


def current_sheet() -> RuleSheet | None:
    """Return the rule sheet of the running app, None where there is none that can be used."""
    return current_app.extensions["pitsplice-rules"].sheet


def load(folder: Path) -> Loaded:
    """Return the rule sheet of a data folder; a bad file is told, never half used."""
    there = [name for name in FILES if (folder / name).exists()]
    if not there:
        return Loaded()
    source = " and ".join(there)
    try:
        if len(there) > 1:
            raise Problem("rule-sheet-file", "There are two rule sheets.", given=source, allowed="one of the two files.",
                          next_step="Take one away and start the server again.")  # fmt: skip
        return Loaded(read_rule_sheet(_text(folder / source), FILES[source]), source)
    except Problem as problem:
        return Loaded(None, source, problem)


def _text(path: Path) -> str:
    try:
        # UTF-8 takes up to 4 bytes a character; past that the core refuses the length anyway.
        with path.open("rb") as file:
            return file.read(4 * LONGEST_SHEET + 8).decode("utf-8-sig")
    except (OSError, UnicodeDecodeError) as error:
        raise Problem("rule-sheet-file", "The rule sheet cannot be read.", given=str(error), allowed="a UTF-8 text file this account may read.",
                      next_step="Save it as UTF-8 text and start the server again.") from error  # fmt: skip
