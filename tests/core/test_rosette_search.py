"""Rosette placement: against a search over a dense grid with its own edge sampling, and properties."""

import itertools
import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.problems import Problem
from core.rosette import stations, tip_angles
from core.rosette_search import least_distance, place
from core.sleeve import ENDS, EndCut, rule_length


def end_cut(end, mitre=60):
    return EndCut(end, 0.0 if end == "square" else mitre)


def sampled_edge(x, length, Ds, cut, count=20_001):
    """Least distance to the edge over the developed outside, from a tip line, every sample looked at."""
    tip = math.radians(tip_angles(cut)[0])
    a = np.linspace(tip - math.pi, tip + math.pi, count)
    T = 0.0 if cut.end == "square" else math.tan(math.radians(cut.mitre_deg))
    reach = Ds / 2 * T * np.cos(a)
    edge = {"square": 0 * a, "scarf": reach, "pointed": -np.abs(reach), "fishmouth": np.abs(reach)}[cut.end]
    top = Ds / 2 * T if cut.end in ("scarf", "fishmouth") else 0.0
    return np.hypot(length / 2 - top + edge - x, Ds / 2 * (a - tip)).min()


def best_on_a_grid(count, d, length, Ds, ts, gap, cut, steps):
    """Largest least margin of every set of `count` grid places on a tip line."""
    xs = np.linspace(gap / 2, length / 2, steps)
    clear = d / 2 + ts
    single = np.array([min(x - gap / 2, sampled_edge(x, length, Ds, cut)) - clear for x in xs])
    best = -math.inf
    for chosen in itertools.combinations(range(steps), count):
        spaced = [xs[b] - xs[a] - 4 * d for a, b in itertools.pairwise(chosen)]
        best = max(best, min([*spaced, *(single[i] for i in chosen)]))
    return best


@pytest.mark.parametrize("end", ENDS)
@pytest.mark.parametrize(("count", "steps", "longer"), [(1, 601, 0.0), (2, 301, 3.0), (3, 81, 8.0)])
@pytest.mark.parametrize("gap", [0.0, 0.5])
def test_no_grid_place_beats_the_search(end, count, steps, longer, gap):
    cut, d, Ds, ts = end_cut(end), 0.46875, 1.875, 0.120
    length = rule_length(1.625, Ds, gap, cut) + longer
    found = place(count, d, length, Ds, ts, gap, cut)
    assert found.fits == count
    least = min(hole.margin for hole in found.holes)
    grid = best_on_a_grid(count, d, length, Ds, ts, gap, cut, steps)
    # reference library: numpy sampling over a grid; a grid place is up to one step off, a spacing up to two
    step = (length - gap) / 2 / (steps - 1)
    assert grid - 1e-4 <= least <= grid + 2 * step


@settings(deadline=None, max_examples=150)
@given(end=st.sampled_from(ENDS), mitre=st.floats(5, 75), Ds=st.floats(0.75, 3), extra=st.floats(-2, 12), count=st.integers(1, 3), share=st.floats(0.1, 0.4), gap=st.floats(0, 0.5))
def test_every_distance_is_kept_by_the_holes_given(end, mitre, Ds, extra, count, share, gap):
    cut, d, ts = end_cut(end, mitre), share * Ds, 0.06 * Ds
    length = max(0.5, rule_length(0.8 * Ds, Ds, gap, cut) + extra)
    found = place(count, d, length, Ds, ts, gap, cut)
    lines = tip_angles(cut)
    assert len(found.holes) == found.fits * len(lines)
    assert {hole.station.angle_deg for hole in found.holes} == (set(lines) if found.fits else set())
    xs = [hole.station.from_middle for hole in found.holes[: found.fits]]
    assert all(b - a >= 4 * d - 1e-6 for a, b in itertools.pairwise(xs))
    for x in xs:
        assert x - gap / 2 >= d / 2 + ts - 1e-6
        assert sampled_edge(x, length, Ds, cut) >= d / 2 + ts - 1e-6
    if found.fits < count:
        # one hole more misses: fewer than count is never given where all fit
        bigger = place(found.fits + 1, d, length, Ds, ts, gap, cut)
        assert bigger.fits == found.fits and len(bigger.text()) == 2


@pytest.mark.parametrize("end", ENDS)
def test_one_hole_goes_where_the_stations_put_it(end):
    cut = end_cut(end)
    wanted = stations(8.5, 1.875, 0.0, cut)
    found = [hole.station for hole in place(1, 0.46875, 8.5, 1.875, 0.120, 0.0, cut).holes]
    assert [one.from_tip for one in found] == pytest.approx([one.from_tip for one in wanted], abs=1e-6)


def test_a_square_end_by_hand():
    found = place(2, 0.5, 12.0, 2.0, 0.1, 0.0, EndCut("square", 0.0))
    # hand: stub to edge 6; 3 M + 2 c + 4 d = 6 with c = .35, 4 d = 2: M = 1.1; x1 = 1.45, x2 = 4.55
    assert [hole.station.from_middle for hole in found.holes[:2]] == pytest.approx([1.45, 4.55])
    assert [hole.margin for hole in found.holes] == pytest.approx([1.1] * 4)
    assert found.holes[0].spacing_margin == pytest.approx(1.1)


def test_holes_too_close_together_are_told():
    found = place(3, 0.5, 7.0, 2.0, 0.1, 0.0, EndCut("square", 0.0))
    # hand: 3.5 - .7 leaves 2.8 between the outer centres: two need 2.0, three need 4.0
    assert found.fits == 2 and found.spacing_fails
    assert found.room_spacing == pytest.approx(1.4)
    assert "3 holes would sit 1.400 in apart; AISC 360 J2.3b (from memory) asks for 2.000 in" in found.text()[1]


def test_a_sleeve_with_no_room_says_so():
    for length in (1.0, 0.4):  # hand: .5 or nothing past the stub end, .7 needed
        found = place(2, 0.5, length, 2.0, 0.1, 0.4, EndCut("square", 0.0))
        assert (found.fits, found.holes, found.room_spacing) == (0, (), None)
        assert found.text()[0].startswith("No hole keeps 0.350 in") and "longer sleeve" in found.text()[1]


def test_the_least_distance_can_be_given():
    assert least_distance(0.5, 0.1) == pytest.approx(0.35)  # common practice: radius + wall; arithmetic by hand
    one = place(1, 0.5, 3.0, 2.0, 0.1, 0.0, EndCut("square", 0.0), 0.75)
    assert (one.fits, one.holes[0].margin) == (1, pytest.approx(0.0, abs=1e-9))  # hand: 1.5 between, .75 to each
    assert one.holes[0].spacing_margin is None
    assert place(1, 0.5, 3.0, 2.0, 0.1, 0.0, EndCut("square", 0.0), 0.751).fits == 0


def test_the_json_form_reads_in_either_unit():
    body = place(2, 0.46875, 10.0, 1.875, 0.120, 0.0, EndCut("pointed")).as_dict(metric=True)
    assert len(body["stations"]) == 4 and body["stations"][0]["from_tip"]["text"].endswith(" mm")
    assert body["text"][0].startswith("2 holes on each line keep 9.01 mm")  # hand: .354375 x 25.4 = 9.0011, up
    assert "One hole" in place(1, 0.46875, 10.0, 1.875, 0.120, 0.0, EndCut("pointed")).text()[0]


@pytest.mark.parametrize(
    ("change", "kind", "field"),
    [({"count": 0}, "out-of-range", "count"), ({"count": 4}, "out-of-range", "count"), ({"count": True}, "out-of-range", "count"),
     ({"diameter": 0.0}, "bad-length", "diameter"), ({"length": -1.0}, "bad-length", "length"), ({"distance": 0.0}, "bad-length", "distance"),
     ({"ts": math.nan}, "bad-length", "ts")],
)  # fmt: skip
def test_numbers_that_cannot_be_are_refused(change, kind, field):
    usual = {"count": 1, "diameter": 0.5, "length": 8.0, "Ds": 2.0, "ts": 0.1, "gap": 0.0, "cut": EndCut("pointed")}
    with pytest.raises(Problem) as caught:
        place(**{**usual, **change})
    assert (caught.value.kind, caught.value.field) == (kind, field) and caught.value.next_step
