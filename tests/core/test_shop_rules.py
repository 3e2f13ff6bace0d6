"""The shop's own rule sheet: read whole or not at all, every verdict at, under and over its limit."""

import pytest

from core.assess import assess
from core.problems import Problem
from core.shop_rules import LONGEST_SHEET, MOST_RULES, read_rule_sheet, sheet_checks
from core.tube import read_tube

# Every rule here is invented.
TOML = """
[[rule]]
member = "main hoop"
min_od = "1-1/2 in"
min_wall = ".120 in"
materials = ["dom-1020", "dom-1026"]
citation = "Invented 2.1"

[[rule]]
member = "Main  Hoop"
min_od = "1-1/2 in"
min_wall = ".095 in"
materials = ["4130-n"]
citation = "Invented 2.2"

[[rule]]
member = "door bar"
min_wall = "2 mm"
citation = "Invented 3"
"""
CSV = """member;min_od;min_wall;materials;citation
main hoop;1-1/2 in;.120 in;dom-1020, dom-1026;Invented 2.1
main hoop;1-1/2 in;.095 in;4130-n;Invented 2.2
door bar;;2 mm;;Invented 3
"""


def tube(od="1-1/2 in", wall=".120 in", material="dom-1020"):
    return read_tube({"od": od, "wall": wall, "material": material})


def verdicts(member, *parts):
    return {c.id: c.verdict for c in sheet_checks(read_rule_sheet(TOML, "toml"), member, *parts)}


def test_both_forms_read_the_same():
    one, two = read_rule_sheet(TOML, "toml"), read_rule_sheet(CSV, "csv")
    assert [(r.min_od, r.min_wall, r.materials, r.citation) for r in one.rules] == [
        (r.min_od, r.min_wall, r.materials, r.citation) for r in two.rules
    ]
    assert one.members == two.members == ("main hoop", "door bar")
    assert one.rules[2].min_wall.typed == "2 mm"


@pytest.mark.parametrize(
    ("change", "name", "verdict"),
    # hand: the sheet's own limits, 1.5 in and .120 in, compared exactly; 38.1 mm is 1.5 in
    [({"od": "1.4999 in"}, "sheet_od", "not met"), ({"od": "1.5 in"}, "sheet_od", "met"), ({"od": "38.1 mm"}, "sheet_od", "met"),
     ({"od": "38.09 mm"}, "sheet_od", "not met"), ({"od": "1.5001 in"}, "sheet_od", "met"),
     ({"wall": ".1199 in"}, "sheet_wall", "not met"), ({"wall": "11 ga"}, "sheet_wall", "met"), ({"wall": ".1201 in"}, "sheet_wall", "met"),
     ({"material": "dom-1026"}, "sheet_material", "met"), ({"material": "erw-1010"}, "sheet_material", "not met"),
     ({"material": "unknown"}, "sheet_material", "unknown")],
)  # fmt: skip
def test_a_tube_at_and_around_each_limit(change, name, verdict):
    assert verdicts("main hoop", tube(**change))[name] == verdict


def test_each_material_has_its_own_wall():
    thin = {"wall": ".095 in"}
    assert verdicts("MAIN hoop ", tube(material="4130-n", **thin)) == dict.fromkeys(("sheet_material", "sheet_od", "sheet_wall"), "met")
    assert verdicts("main hoop", tube(**thin))["sheet_wall"] == "not met"
    # .095 in is enough for one steel and not for the other, so without the steel nobody can tell.
    assert verdicts("main hoop", tube(material="unknown", **thin))["sheet_wall"] == "unknown"
    assert verdicts("main hoop", tube(material="unknown", wall=".094 in"))["sheet_wall"] == "not met"
    assert verdicts("main hoop", tube(material="unknown", wall=".120 in"))["sheet_wall"] == "met"


def test_the_clause_is_the_citation_and_a_sleeve_is_judged_too():
    found = sheet_checks(read_rule_sheet(TOML, "toml"), "main hoop", tube(), tube("1-3/4 in", ".109 in"))
    assert {c.clause for c in found} == {"Invented 2.1"}
    assert {c.id: c.verdict for c in found if "sleeve" in c.id} == {"sheet_sleeve_material": "met", "sheet_sleeve_wall": "not met"}
    assert [c.id for c in sheet_checks(read_rule_sheet(TOML, "toml"), "door bar", tube())] == ["sheet_wall"]


@pytest.mark.parametrize(
    ("row", "field", "kind"),
    [("main hoop,big,,,X", "row 2.min_od", "bad-length"), ("main hoop,,120,,X", "row 2.min_wall", "ask-length"), ("main hoop,,,gold,X", "row 2.materials", "bad-material"),
     ("main hoop,,,unknown,X", "row 2.materials", "bad-material"), (",1 in,,,X", "row 2.member", "missing"), ("main hoop,1 in,,,", "row 2.citation", "missing"),
     ("main hoop,,,,X", "row 2.min_od", "missing"), ("main hoop,7 in,,,X", "row 2.min_od", "out-of-range"), ("main hoop,,1 in,,X", "row 2.min_wall", "out-of-range"),
     ("main hoop,1 in,,,X,Y", "row 2", "bad-rule-sheet"), ("a,1 in,,,X\nA,2 in,,,X", "row 3.member", "bad-rule-sheet"), ('a,"1 in,,,X', "", "bad-rule-sheet"),
     (f"{'m' * 81},1 in,,,X", "row 2.member", "bad-text"), ("", "", "bad-rule-sheet")],
)  # fmt: skip
def test_a_bad_row_is_told_by_row_and_name(row, field, kind):
    with pytest.raises(Problem) as caught:
        read_rule_sheet(f"member,min_od,min_wall,materials,citation\n{row}", "csv")
    assert (caught.value.field, caught.value.kind) == (field, kind)
    assert caught.value.allowed and caught.value.next_step


def test_every_bad_cell_is_told_and_nothing_is_half_read():
    with pytest.raises(Problem) as caught:
        read_rule_sheet("member,min_od,min_wall,materials,citation\na,x,y,,C\nb,1 in,,,C\nc,,,gold,", "csv")
    fields = [one.field for one in (caught.value, *caught.value.others)]
    assert fields == ["row 2.min_od", "row 2.min_wall", "row 4.materials", "row 4.citation"]


@pytest.mark.parametrize(
    "text",
    ["rule = 1", "rules = []", "[[rule]", "", "a = " + "[" * 50000, "rule = [1]", "a = " + "9" * 5000, '[[rule]]\nmember = "a"\n' * (MOST_RULES + 1)],
    ids=["number", "other name", "broken", "empty", "deep", "not tables", "huge number", "too many"],
)  # fmt: skip
def test_text_that_is_no_sheet_is_refused(text):
    with pytest.raises(Problem) as caught:
        read_rule_sheet(text, "toml")
    assert caught.value.kind == "bad-rule-sheet"


@pytest.mark.parametrize(
    ("line", "field"),
    [("min_od = 1.5", "rule 1.min_od"), ('materials = "gold"', "rule 1.materials"), ("materials = [[]]", "rule 1.materials"), ("materials = 4130", "rule 1.materials"),
     ('min_odd = "1 in"', "rule 1.min_odd"), ("member = 1", "rule 1.member")],
)  # fmt: skip
def test_toml_of_the_wrong_kind_is_refused_where_it_stands(line, field):
    member = "" if line.startswith("member") else 'member = "a"'
    with pytest.raises(Problem) as caught:
        read_rule_sheet(f'[[rule]]\n{member}\nmin_wall = ".1 in"\ncitation = "C"\n{line}', "toml")
    assert caught.value.field == field


def test_the_assessment_shows_the_sheet_beside_the_circular():
    sheet = read_rule_sheet(TOML, "toml")
    data = {"tube": {"od": "1-3/8 in", "wall": ".120 in", "material": "dom-1020"}, "damage": "hole"}
    plain, judged = assess(data, sheet), assess({**data, "member": "main hoop"}, sheet)
    assert {c["id"]: c["verdict"] for c in judged.pop("shop_rules")} == {"sheet_material": "met", "sheet_od": "not met", "sheet_wall": "met"}
    assert judged == plain


@pytest.mark.parametrize(("member", "sheet"), [("roof bar", TOML), ("main hoop", None), (7, TOML)])
def test_a_member_on_no_sheet_is_refused(member, sheet):
    data = {"tube": {"od": "2 in", "wall": ".120 in", "material": "dom-1020"}, "damage": "hole", "member": member}
    with pytest.raises(Problem) as caught:
        assess(data, read_rule_sheet(sheet, "toml") if sheet else None)
    assert (caught.value.kind, caught.value.field) == ("bad-member", "member")
    if member == "roof bar":
        assert caught.value.allowed == "main hoop, door bar."


# Rule sheet's own limits, invented: each size at, just under and just over, in the unit of the sheet and in the other.
@pytest.mark.parametrize(
    ("member", "part", "name", "under", "at", "over"),
    [
        ("main hoop", "od", "sheet_od", ("1.49999 in", "38.09 mm"), ("1-1/2 in", "38.1 mm"), ("1.50001 in", "38.11 mm")),  # hand: 1.5 x 25.4 = 38.1
        ("main hoop", "wall", "sheet_wall", (".11999 in", "3.047 mm"), (".120 in", "3.048 mm"), (".12001 in", "3.049 mm")),  # hand: .12 x 25.4 = 3.048
        ("door bar", "wall", "sheet_wall", ("1.999 mm", ".0787 in"), ("2 mm", "2.00 mm"), ("2.001 mm", ".0788 in")),  # hand: 2 / 25.4 = .07874
    ],
)  # fmt: skip
def test_a_size_at_just_under_and_just_over_what_the_sheet_asks(member, part, name, under, at, over):
    for sizes, verdict in ((under, "not met"), (at, "met"), (over, "met")):
        for size in sizes:
            assert verdicts(member, tube(**{part: size}))[name] == verdict


@pytest.mark.parametrize(("wall", "verdict"), [(".11999 in", "not met"), (".120 in", "met"), (".12001 in", "met")])
def test_a_sleeve_at_just_under_and_just_over_the_wall_of_the_sheet(wall, verdict):
    found = verdicts("main hoop", tube(), tube("1-3/4 in", wall))
    assert found["sheet_sleeve_wall"] == verdict
    assert "sheet_sleeve_od" not in found


@pytest.mark.parametrize(
    ("column", "under", "lowest", "highest", "over"),
    # the program's own range of tubes: OD .25 to 6 in, wall .020 to .750 in
    [("min_od", ".2499 in", ".25 in", "6 in", "6.0001 in"), ("min_wall", ".0199 in", ".020 in", ".750 in", ".7501 in")],
)  # fmt: skip
def test_a_sheet_asks_for_sizes_that_tubes_have(column, under, lowest, highest, over):
    def read(size):
        return read_rule_sheet(f"member,{column},citation\nbar,{size},Invented", "csv")

    assert getattr(read(lowest).rules[0], column).typed == lowest
    assert getattr(read(highest).rules[0], column).typed == highest
    for size in (under, over):
        with pytest.raises(Problem) as caught:
            read(size)
        assert (caught.value.kind, caught.value.field) == ("out-of-range", f"row 2.{column}")


@pytest.mark.parametrize(("column", "most"), [("member", 80), ("citation", 300)])
def test_words_of_a_rule_fit_on_a_printed_line(column, most):
    def read(letters):
        return read_rule_sheet(f"{column},{'citation' if column == 'member' else 'member'},min_od\n{'x' * letters},y,1 in", "csv")

    assert len(getattr(read(most - 1).rules[0], column)) == most - 1
    assert len(getattr(read(most).rules[0], column)) == most
    with pytest.raises(Problem) as caught:
        read(most + 1)
    assert caught.value.kind == "bad-text"


def test_a_sheet_has_up_to_five_hundred_rules_and_200_000_characters():
    head = "member,min_od,citation\n"
    rows = [f"bar {n},1 in,Invented" for n in range(MOST_RULES + 1)]
    assert len(read_rule_sheet(head + "\n".join(rows[:-1]), "csv").rules) == MOST_RULES
    with pytest.raises(Problem):
        read_rule_sheet(head + "\n".join(rows), "csv")
    sheet = head + rows[0]
    assert read_rule_sheet(sheet + "\n" * (LONGEST_SHEET - len(sheet)), "csv").members == ("bar 0",)
    with pytest.raises(Problem) as caught:
        read_rule_sheet(sheet + "\n" * (LONGEST_SHEET - len(sheet) + 1), "csv")
    assert "too long" in caught.value.title


@pytest.mark.parametrize(("text", "kind"), [("member", "xlsx"), ("member,size,citation\na,1 in,X", "csv"), ("member,member,citation\na,b,X", "csv"), ("min_od,citation\n1 in,X", "csv")])
def test_another_form_or_another_first_row_is_refused(text, kind):
    with pytest.raises(Problem) as caught:
        read_rule_sheet(text, kind)
    assert caught.value.kind == "bad-rule-sheet"
