"""Typed lengths: every form people use, exact against decimal and fractions, and no guess."""

import math
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.lengths import read_length
from core.problems import Problem
from core.quantity import decimal_text, inch_fraction_text, round_to, ruler_text


# hand: the project fact sheet's list of forms, worked out in inches
@pytest.mark.parametrize(
    ("text", "inches", "role"),
    [
        ("1-5/8", Fraction(13, 8), "length"), ("1 5/8", Fraction(13, 8), "length"), ("1⅝", Fraction(13, 8), "length"),
        ("1.625", Fraction(13, 8), "length"), (".134", Fraction(134, 1000), "wall"), ("134 thou", Fraction(134, 1000), "wall"),
        ("10 ga", Fraction(134, 1000), "wall"), ("41.3 mm", Fraction(413, 254), "length"), ("1 1/2 in", Fraction(3, 2), "length"),
        ("1½ in", Fraction(3, 2), "length"), ('1.5"', Fraction(3, 2), "length"), ("3' 2\"", Fraction(38), "length"),
        ("2 ft 3 in", Fraction(27), "length"),
    ],
)  # fmt: skip
def test_the_forms_people_type_are_read_exactly(text, inches, role):
    read = read_length(text, role=role)
    assert read.inches == inches
    assert read.typed == text


@pytest.mark.parametrize(
    ("text", "role", "kind"),
    [
        ("1,625", "length", "ask-length"), ("12,7 mm", "length", "ask-length"), ("0", "length", "bad-length"),
        ("-1 1/2 in", "length", "bad-length"), ("-3", "length", "bad-length"), ("1/0", "length", "bad-length"),
        ("1 8/5", "length", "ask-length"), ("1.5/8", "length", "bad-length"), ("134", "wall", "ask-length"),
        ("10 ga", "length", "bad-length"), ("21 ga", "wall", "bad-length"), ("10.5 ga", "wall", "bad-length"),
        ("", "length", "bad-length"), ("1" * 41, "length", "bad-length"), ("2 ft 13 in", "length", "ask-length"),
        ("2 ft 3 mm", "length", "bad-length"), ("5 mil", "wall", "ask-length"), ("3 cubits", "length", "bad-length"),
        ("NaN", "length", "bad-length"), ("1e3", "length", "bad-length"),
    ],
)  # fmt: skip
def test_what_has_two_readings_or_none_is_refused(text, role, kind):
    with pytest.raises(Problem) as caught:
        read_length(text, role=role)
    assert caught.value.kind == kind
    assert caught.value.given == text
    assert caught.value.allowed and caught.value.next_step


def test_a_bare_wall_is_asked_back_with_only_what_a_wall_can_be():
    def asked(text):
        with pytest.raises(Problem) as caught:
            read_length(text, role="wall")
        return caught.value.title

    assert asked("134") == "134 thou?"  # project fact sheet
    assert asked("10") == "10 ga or 10 mm?"  # hand: 10 thou is thinner than any tube here
    assert asked("20") == "20 thou or 20 ga?"
    assert read_length("3", role="wall", default_unit="mm").inches == Fraction(30, 254)


@pytest.mark.parametrize("value", [None, 1.5, 3, True, ["1 in"], {"in": 1}])
def test_only_text_is_a_length(value):
    with pytest.raises(Problem) as caught:
        read_length(value)
    assert caught.value.kind == "bad-length"


def test_zero_is_read_where_it_is_a_value():
    assert read_length("0 in", allow_zero=True).inches == 0


@given(st.decimals("0.0001", "999", places=4))
def test_a_decimal_is_read_exactly(value):
    # reference library: decimal
    assert read_length(f"{value} in").inches == Fraction(value)
    assert read_length(f"{value} mm").inches == Fraction(value) / Fraction(Decimal("25.4"))


@given(whole=st.integers(0, 300), bottom=st.integers(2, 128), data=st.data())
def test_a_mixed_number_is_read_exactly_in_every_spelling(whole, bottom, data):
    # reference library: fractions
    top = data.draw(st.integers(1, bottom - 1))
    for text in (f"{whole}-{top}/{bottom}", f"{whole} {top}/{bottom} in", f'{whole} - {top} / {bottom}"'):
        assert read_length(text).inches == whole + Fraction(top, bottom)


@given(feet=st.integers(0, 40), inches=st.integers(0, 11), sixteenths=st.integers(1, 15))
def test_feet_and_inches_add_up(feet, inches, sixteenths):
    assert read_length(f"{feet} ft {inches}-{sixteenths}/16 in").inches == 12 * feet + inches + Fraction(sixteenths, 16)


@given(st.integers(1, 64 * 200))
def test_a_shop_fraction_is_read_back_as_the_same_length(steps):
    length = Fraction(steps, 64)
    assert read_length(inch_fraction_text(length)).inches == length


@given(st.integers(1, 500_000))
def test_millimetres_are_read_back_as_the_same_length(hundredths):
    length = Fraction(hundredths, 100)
    assert read_length(f"{decimal_text(length, 2)} mm").mm == length


@given(st.floats(0.001, 300), st.booleans())
def test_a_required_length_never_reads_shorter_and_an_available_one_never_longer(inches, metric):
    up, down = (float(read_length(ruler_text(inches, metric, way), allow_zero=True)) for way in ("up", "down"))
    step = 1 / 25.4 if metric else 1 / 16
    # A thousand-millionth of a step is rounding error, not length.
    assert down - 1e-6 * step <= inches <= up + 1e-6 * step
    assert up - down <= step * (1 + 1e-6)


@given(st.floats(0, 1000), st.sampled_from([1 / 16, 1 / 32, 0.001, 1.0]))
def test_rounding_goes_the_way_it_is_told(value, step):
    up, down, near = (round_to(value, step, way) for way in ("up", "down", "near"))
    assert math.isclose(near, min((down, up), key=lambda mark: abs(mark - value)), abs_tol=step) and down <= near <= up
    assert abs(near - value) <= step / 2 * (1 + 1e-6)


def test_a_length_off_every_mark_has_no_fraction():
    assert inch_fraction_text(Fraction(1, 3)) == ""
    assert inch_fraction_text(Fraction(-13, 8)) == "-1-5/8 in"
    assert (inch_fraction_text(Fraction(2)), inch_fraction_text(Fraction(1, 64))) == ("2 in", "1/64 in")
