"""The phone's copy of the tables is the core's own."""

from tests.golden import tables


def test_the_tables_of_the_phone_are_fresh():
    assert tables.FILE.read_text(encoding="utf-8") == tables.text(), "stale: run python -m tests.golden.tables"


def test_every_set_of_members_and_every_step_came_along():
    made = tables.tables()
    assert made["sizeInput"]["MEMBERS"] == sorted(made["sizeInput"]["MEMBERS"])
    assert {"tube", "sleeve", "gap"} <= set(made["sizeInput"]["MEMBERS"])
    used = {place for method in made["checklist"]["METHODS"].values() for group in method["groups"] for place in group["steps"]}
    assert used == set(range(len(made["checklist"]["STEPS"])))
