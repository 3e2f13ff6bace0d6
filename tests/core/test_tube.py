"""A tube is read whole or refused with every bad member named."""

import math

import pytest

from core.problems import Problem
from core.tube import plain_size, read_tube, size_text

GOOD = {"od": "1-5/8 in", "wall": ".120 in", "material": "dom-1020"}


def refused(data):
    with pytest.raises(Problem) as caught:
        read_tube(data)
    return [(one.field, one.kind) for one in (caught.value, *caught.value.others)]


# The program's own range: OD .25 to 6 in, wall .020 to .750 in.
@pytest.mark.parametrize(
    ("name", "under", "lowest", "highest", "over", "rest"),
    [("od", ".2499 in", ".25 in", "6 in", "6.0001 in", {"wall": ".065 in"}), ("wall", ".0199 in", ".020 in", ".750 in", ".7501 in", {"od": "3 in"})],
)  # fmt: skip
def test_a_size_at_just_under_and_just_over_the_range(name, under, lowest, highest, over, rest):
    for size in (lowest, highest):
        assert getattr(read_tube({**GOOD, **rest, name: size}), name).typed == size
    for size in (under, over):
        assert refused({**GOOD, **rest, name: size}) == [(name, "out-of-range")]


@pytest.mark.parametrize(("wall", "is_tube"), [(".2499 in", True), (".25 in", False), (".2501 in", False)])
def test_the_wall_leaves_a_hole(wall, is_tube):
    # hand: half of .5 in
    data = {**GOOD, "od": "1/2 in", "wall": wall}
    if is_tube:
        assert read_tube(data).d == pytest.approx(0.0002)  # hand: .5 - 2 x .2499
    else:
        assert refused(data) == [("wall", "bad-tube")]


def test_every_bad_member_is_named():
    assert refused({"wal": "1"}) == [
        ("wal", "unknown-member"), ("od", "bad-length"), ("wall", "bad-length"), ("material", "bad-material"),
    ]  # fmt: skip
    assert refused({**GOOD, "seam": "yes"}) == [("seam", "bad-choice")]
    assert refused("1-5/8 in") == [("", "bad-tube")]


def test_sizes_read_as_typed_and_in_decimals():
    inch, metric = read_tube(GOOD), read_tube({**GOOD, "od": "41.275 mm", "wall": "3.05 mm"})
    assert (size_text(inch), plain_size(inch)) == ("1-5/8 in × .120 in", "1.625 x .120 1020 DOM")
    assert (size_text(metric), plain_size(metric)) == ("41.275 mm × 3.05 mm", "41.28 x 3.05 mm 1020 DOM")
    assert inch.area == pytest.approx(math.pi * 1.505 * 0.12)  # hand: pi (1.625 - .120) .120
    assert inch.name() == "1-5/8 in × .120 in 1020 DOM"
