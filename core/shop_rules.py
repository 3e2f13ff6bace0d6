"""The shop's own rule sheet: smallest tube and allowed steel for each member of the car.

The shop types the sheet from the rule book it races under; none comes with the program.
Lengths in inches once read; the typed text is kept. Source of every verdict: the citation
the shop typed beside the rule.
"""

from __future__ import annotations

import csv
import io
import tomllib
import unicodedata
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from core.lengths import Length, read_length
from core.materials import MATERIALS, material
from core.problems import Problem, collect
from core.rules import Check, verdict
from core.tube import LARGEST_OD, SMALLEST_OD, THICKEST_WALL, THINNEST_WALL, Tube, unknown_members

COLUMNS = ("member", "min_od", "min_wall", "materials", "citation")
KINDS = ("toml", "csv")
MOST_RULES, LONGEST_SHEET = 500, 200_000
LONGEST_MEMBER, LONGEST_CITATION = 80, 300


@dataclass(frozen=True)
class MemberRule:
    """One rule of a sheet, for one member and the materials it names.

    Attributes
    ----------
    member : str
        "main hoop", "door bar": as the shop typed it.
    min_od, min_wall : Length or None
        Smallest outside diameter (0.25 to 6 in) and wall (0.020 to 0.750 in) allowed; None for no rule.
    materials : tuple of str
        Keys of `core.materials.MATERIALS`; empty for any material.
    citation : str
        Where it stands in the rule book, printed beside each verdict.

    Source: the sheet.
    """

    member: str
    min_od: Length | None
    min_wall: Length | None
    materials: tuple[str, ...]
    citation: str


@dataclass(frozen=True)
class RuleSheet:
    """A whole sheet, rules in its order. Source: the shop's own file."""

    rules: tuple[MemberRule, ...]

    @property
    def members(self) -> tuple[str, ...]:
        """The members the sheet has rules for, each once, in its order."""
        return tuple({_same(rule.member): rule.member for rule in reversed(self.rules)}.values())[::-1]

    def rules_for(self, member: object) -> tuple[MemberRule, ...]:
        """Return the rules of one member; upper and lower case and extra spaces do not matter.

        Raises
        ------
        Problem
            ``bad-member`` listing the members of the sheet.
        """
        found = tuple(rule for rule in self.rules if isinstance(member, str) and _same(rule.member) == _same(member))
        if not found:
            raise Problem("bad-member", "Your rule sheet has no such member.", given=member, allowed=", ".join(self.members) + ".",
                          next_step="Choose one of these members, or leave the member out.", field="member")  # fmt: skip
        return found


def read_rule_sheet(text: str, kind: str) -> RuleSheet:
    """Read a rule sheet: all of it, or none of it.

    Two rules of one member may differ by material, such as a thinner wall for a better
    steel; two rules of one member for the same material are refused.

    Parameters
    ----------
    text : str
        TOML: tables ``[[rule]]`` with ``member``, ``min_od``, ``min_wall``, ``materials`` (list), ``citation``.
        CSV: the same names in the first row; comma, semicolon or tab; materials with spaces between.
        ``member``, ``citation`` and at least one of the other three are needed. Lengths are text with a unit.
    kind : {"toml", "csv"}

    Returns
    -------
    RuleSheet

    Raises
    ------
    Problem
        ``bad-rule-sheet`` for text that is no such sheet; else the first bad cell with the others
        inside, ``field`` telling row and name ("rule 2.min_od", "row 3.min_od").

    Source: the sheet.

    >>> sheet = read_rule_sheet('''
    ... [[rule]]
    ... member = "main hoop"
    ... min_od = "1-1/2 in"
    ... min_wall = ".120 in"
    ... materials = ["dom-1020", "dom-1026"]
    ... citation = "Invented example club, 2.1"
    ... ''', "toml")
    >>> sheet.members, sheet.rules[0].min_od.typed
    (('main hoop',), '1-1/2 in')
    >>> read_rule_sheet("member,min_od,citation\\ndoor bar,big,Invented 2.2", "csv")
    Traceback (most recent call last):
    core.problems.Problem: row 2.min_od: ...
    """
    if kind not in KINDS:
        raise _bad("A rule sheet is TOML or CSV.", kind, "Save it as rules.toml or rules.csv.")
    if len(text) > LONGEST_SHEET:
        raise _bad("The rule sheet is too long.", f"{len(text)} characters", f"Keep it under {LONGEST_SHEET} characters.")
    rows = _toml_rows(text) if kind == "toml" else _csv_rows(text)
    if not rows:
        raise _bad("The rule sheet has no rules.", "no rules", "Add one rule, or take the file away.")
    if len(rows) > MOST_RULES:
        raise _bad("The rule sheet has too many rules.", f"{len(rows)} rules", f"Keep it to {MOST_RULES} rules.")
    problems: list[Problem] = []
    rules: list[MemberRule] = []
    for place, row in rows:
        try:
            rules.append(_rule(row, rules))
        except Problem as problem:
            problems += [one.at(place) for one in (problem, *problem.others)]
    collect(problems)
    return RuleSheet(tuple(rules))


def sheet_checks(sheet: RuleSheet, member: str, tube: Tube, sleeve: Tube | None = None) -> list[Check]:
    """Return the sheet's verdicts on a tube, and on a sleeve if there is one.

    Met when OD >= min_od, wall >= min_wall and the material is named, compared exactly as typed.
    A sleeve is judged by wall and material: its outside diameter is always the larger one.

    Parameters
    ----------
    sheet : RuleSheet
    member : str
        One of ``sheet.members``.
    tube, sleeve : Tube

    Returns
    -------
    list of Check
        ``clause`` is the sheet's citation. "unknown" where the material is not known.

    Raises
    ------
    Problem
        ``bad-member`` for a member the sheet does not have.

    Source: the citation of each rule.

    >>> from core.tube import read_tube
    >>> sheet = read_rule_sheet("member,min_wall,citation\\nmain hoop,.120 in,Invented 2.1", "csv")
    >>> tube = read_tube({"od": "1-5/8 in", "wall": ".095 in", "material": "dom-1020"})
    >>> [(c.id, c.clause, c.verdict) for c in sheet_checks(sheet, "Main hoop", tube)]
    [('sheet_wall', 'Invented 2.1', 'not met')]
    """
    rules = sheet.rules_for(member)
    checks = _part_checks(rules, tube, "sheet_", "tube", with_od=True)
    return checks + (_part_checks(rules, sleeve, "sheet_sleeve_", "sleeve", with_od=False) if sleeve else [])


def member_checks(sheet: RuleSheet | None, member: str, tube: Tube, sleeve: Tube | None = None) -> list[Check]:
    """Return `sheet_checks`, or refuse a member where there is no sheet.

    Parameters
    ----------
    sheet : RuleSheet or None
        None where the shop has no sheet.
    member : str
        One of ``sheet.members``.
    tube, sleeve : Tube
        Sizes in inches.

    Returns
    -------
    list of Check
        As `sheet_checks`.

    Raises
    ------
    Problem
        ``bad-member`` for no sheet, or for a member the sheet does not have.

    Source: the citation of each rule.

    >>> from core.tube import read_tube
    >>> sheet = read_rule_sheet("member,min_wall,citation\\nmain hoop,.120 in,Invented 2.1", "csv")
    >>> tube = read_tube({"od": "1-5/8 in", "wall": ".120 in", "material": "dom-1020"})
    >>> [check.verdict for check in member_checks(sheet, "main hoop", tube)]
    ['met']
    >>> member_checks(None, "main hoop", tube)
    Traceback (most recent call last):
    core.problems.Problem: member: A member was given, and there is no rule sheet here to look it up in. ...
    """
    if sheet is None:
        raise Problem("bad-member", "A member was given, and there is no rule sheet here to look it up in.", given=member,
                      allowed="no member, or a rule sheet in the data folder.",
                      next_step="Leave the member out, or put the rule sheet back and start the server again.", field="member")  # fmt: skip
    return sheet_checks(sheet, member, tube, sleeve)


def _part_checks(rules: tuple[MemberRule, ...], part: Tube, start: str, what: str, *, with_od: bool) -> list[Check]:
    """Judge by the rules that name the part's material; where none does, by all of them."""
    checks = []
    key = part.material.key
    named = [rule for rule in rules if not rule.materials or key in rule.materials]
    if any(rule.materials for rule in rules):
        outcome = True if named else None if key == "unknown" else False
        text = {True: f"The sheet allows this material for the {what}.",
                False: f"The sheet does not allow this material for the {what}. Use one that it names.",
                None: "Find the certificate or the mark. The sheet names the materials it allows."}[outcome]  # fmt: skip
        limit = "; ".join(", ".join(MATERIALS[one].name for one in rule.materials) or "any material" for rule in rules)
        checks.append(Check(f"{start}material", _citations(named or rules), part.material.name, limit, verdict(outcome), text))
    # One rule at most names a material; several are left only while the material is in doubt.
    for name, size, has, pick in (("od", "outside diameter", part.od, lambda r: r.min_od), ("wall", "wall", part.wall, lambda r: r.min_wall)):
        asked = [rule for rule in (named or rules) if pick(rule) is not None]
        if asked and (name == "wall" or with_od):
            checks.append(_size_check(f"{start}{name}", f"{what}'s {size}", has, asked, pick))
    return checks


def _size_check(name: str, what: str, has: Length, rules: list[MemberRule], pick: Callable[[MemberRule], Length]) -> Check:
    limits = [pick(rule) for rule in rules]
    least, most = min(one.inches for one in limits), max(one.inches for one in limits)
    outcome = True if has.inches >= most else False if has.inches < least else None
    text = {True: f"The {what} is at least what the sheet asks.",
            False: f"The {what} is under what the sheet asks. Use a larger one, or ask the inspector.",
            None: f"Whether the {what} is enough depends on the material. Settle the material first."}[outcome]  # fmt: skip
    limit = "at least " + " or ".join(dict.fromkeys(one.typed for one in limits)) + (" by material" if most > least else "")
    return Check(name, _citations(rules), has.typed, limit, verdict(outcome), text)


def _citations(rules: Iterable[MemberRule]) -> str:
    return "; ".join(dict.fromkeys(rule.citation for rule in rules))


def _same(member: str) -> str:
    return " ".join(member.casefold().split())


def _rule(row: dict[str, Any], earlier: list[MemberRule]) -> MemberRule:
    """Read one row, or raise its first problem with the others inside."""
    problems: list[Problem] = []
    unknown_members(row, set(COLUMNS), problems)

    def read(name, reader):
        try:
            return reader(row.get(name))
        except Problem as problem:
            problems.append(problem.at(name))
            return None

    member = read("member", lambda v: _words(v, LONGEST_MEMBER))
    min_od = read("min_od", lambda v: _size(v, "diameter", SMALLEST_OD, LARGEST_OD))
    min_wall = read("min_wall", lambda v: _size(v, "wall", THINNEST_WALL, THICKEST_WALL))
    materials = read("materials", _materials)
    citation = read("citation", lambda v: _words(v, LONGEST_CITATION))
    collect(problems)
    if min_od is None and min_wall is None and not materials:
        raise Problem("missing", "This rule limits nothing.", given=member, allowed="at least one of min_od, min_wall, materials.",
                      next_step="Give what the rule book asks, or take the rule out.", field="min_od")  # fmt: skip
    for other in earlier:
        shared = set(other.materials) & set(materials)
        if _same(other.member) == _same(member) and (shared or not other.materials or not materials):
            raise Problem("bad-rule-sheet", "This member already has a rule for this material.", given=member,
                          allowed="one rule for a member and a material.",
                          next_step="Put them into one rule, or name different materials.", field="member")  # fmt: skip
    return MemberRule(member, min_od, min_wall, materials, citation)


def _words(value: Any, longest: int) -> str:
    clean = " ".join(value.split()) if isinstance(value, str) else ""
    if not clean or len(clean) > longest or any(unicodedata.category(c) in ("Cc", "Cs", "Zl", "Zp") for c in clean):
        raise Problem("missing" if value in (None, "") else "bad-text", "This text is missing or cannot be kept.", given="" if value is None else value,
                      allowed=f"text of 1 to {longest} characters on one line.", next_step="Type it into the sheet.")  # fmt: skip
    return clean


def _size(value: Any, role: str, low: float, high: float) -> Length | None:
    if value is None or value == "":
        return None
    size = read_length(value, role=role)
    if not Fraction(str(low)) <= size.inches <= Fraction(str(high)):
        raise Problem("out-of-range", f"That {role} is outside what this handles.", given=size.typed,
                      allowed=f"{low:g} in to {high:g} in.", next_step="Check the number and its unit.")  # fmt: skip
    return size


def _materials(value: Any) -> tuple[str, ...]:
    if value is None or value == "":
        return ()
    keys = value.replace(",", " ").replace(";", " ").split() if isinstance(value, str) else value
    if not isinstance(keys, list):
        raise Problem("bad-material", "The materials must be a list of material keys.", given=value,
                      allowed=", ".join(MATERIALS) + ".", next_step='Write for example ["dom-1020", "4130-n"].')  # fmt: skip
    found = dict.fromkeys(material(key).key for key in keys)
    if "unknown" in found:
        raise Problem("bad-material", "A rule cannot allow a material that nobody knows.", given="unknown",
                      allowed=", ".join(key for key in MATERIALS if key != "unknown") + ".", next_step="Name the materials the rule book allows.")  # fmt: skip
    return tuple(found)


def _toml_rows(text: str) -> list[tuple[str, dict[str, Any]]]:
    try:
        data = tomllib.loads(text)
    except (ValueError, RecursionError) as error:
        raise _bad("The rule sheet is not TOML.", str(error) or "text nested too deep", "Correct the line that is named.") from error
    rules = data.get("rule", [])
    if set(data) - {"rule"} or not isinstance(rules, list) or not all(isinstance(one, dict) for one in rules):
        raise _bad("The rule sheet has something else than rules.", ", ".join(data), "Start each rule with a line [[rule]].")
    return [(f"rule {number}", rule) for number, rule in enumerate(rules, 1)]


def _csv_rows(text: str) -> list[tuple[str, dict[str, Any]]]:
    first_line = text.lstrip().partition("\n")[0]
    separator = max((";", "\t", ","), key=lambda mark: (first_line.count(mark), mark == ","))
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=separator, strict=True)
    try:
        lines = [(reader.line_num, [cell.strip() for cell in cells]) for cells in reader if any(cell.strip() for cell in cells)]
    except csv.Error as error:
        raise _bad("The rule sheet is not CSV.", str(error), "Save it as CSV from a spreadsheet.") from error
    header = [name.lower() for name in lines[0][1]] if lines else []
    if set(header) - set(COLUMNS) or len(set(header)) < len(header) or "member" not in header or "citation" not in header:
        raise _bad("The first row does not fit.", ", ".join(header), "Put these names into the first row, each once.")
    for number, cells in lines[1:]:
        if any(cells[len(header):]):
            raise _bad("A row has more cells than the first row.", f"row {number}: {len(cells)} cells", "Quote a cell that holds the separator.").at(f"row {number}")  # fmt: skip
    return [(f"row {number}", dict(zip(header, cells, strict=False))) for number, cells in lines[1:]]


def _bad(title: str, given: str, next_step: str) -> Problem:
    return Problem("bad-rule-sheet", title, given=given, next_step=next_step,
                   allowed=f"TOML tables [[rule]], or CSV with a first row; the names {', '.join(COLUMNS)}.")  # fmt: skip
