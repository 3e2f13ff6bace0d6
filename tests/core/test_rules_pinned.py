"""Pinned: every clause as listed and as cited, and the form of a check."""

from core.rules import CLAUSES, DEFERENCE, Check, clause, verdict
from tests.core.pinning import unlike

CASES = {
    "clauses": lambda: {key: clause(key).as_dict() for key in CLAUSES},
    "labels": lambda: {key: one.label() for key, one in CLAUSES.items()},
    "check": lambda: Check("id", "clause", "given", "limit", verdict(True), "text").as_dict(),
    "deference": lambda: DEFERENCE,
}


def test_pinned():
    assert not unlike("rules", CASES)


def test_the_three_verdicts():
    assert [verdict(outcome) for outcome in (True, False, None)] == ["met", "not met", "unknown"]
