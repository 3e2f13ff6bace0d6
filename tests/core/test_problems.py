"""A problem carries what a person needs, on its own and with the others found beside it."""

import pytest

from core.problems import Problem, collect, shorten


def test_the_object_a_page_gets_has_what_was_given_what_is_allowed_and_what_to_do():
    problem = Problem("bad-length", "That is no length.", given="1,5", allowed="1.5 in.", next_step="Use a point.", field="gap", status=400)
    assert problem.as_dict() == {
        "type": "urn:pitsplice:problem:bad-length", "title": "That is no length.", "status": 400,
        "given": "1,5", "allowed": "1.5 in.", "next": "Use a point.", "field": "gap",
    }  # fmt: skip
    assert str(problem) == "gap: That is no length. Given: '1,5'. Allowed: 1.5 in. Next: Use a point."


def test_a_problem_about_the_whole_has_no_field_and_others_come_inside():
    first, second = Problem("bad-body", "No object."), Problem("missing", "No tube.").at("tube").at("job")
    with pytest.raises(Problem) as caught:
        collect([first, second])
    body = caught.value.as_dict()
    assert "field" not in body
    assert [(other["type"], other["field"]) for other in body["others"]] == [("urn:pitsplice:problem:missing", "job.tube")]
    assert str(first).startswith("No object.")


@pytest.mark.parametrize(("length", "shown"), [(119, 119), (120, 120), (121, 120)])
def test_what_was_given_is_cut_to_120_characters(length, shown):
    # hand: 120 characters, the last one the mark of the cut
    text = shorten("x" * length)
    assert len(text) == shown
    assert text.endswith("…") is (length > 120)
