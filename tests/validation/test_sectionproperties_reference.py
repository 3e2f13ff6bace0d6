"""Round tubes against the sectionproperties library (finite elements), a test-only dependency."""
# ruff: noqa: SIM300  (I, S, Z, J are the trade's symbols, not constants)

import pytest

from core.section import net_section, round_section

# Named once. A circle of 128 straight sides holds 1 - 0.0004 of its circle's area and about
# 1 - 0.0008 of its second moment, so the library's own figures are low by that much.
POINTS_AROUND = 128
CLOSE = 1.5e-3
# The closed form takes a hole as a strip d t; a straight hole through a curved wall takes a little more
# area (0.13 % of what is left for one hole of this size, 0.76 % for five).
HOLE_CLOSE = 1e-2

SIZES = [(1.625, 0.120), (1.875, 0.120), (1.625, 0.134), (1.0, 0.035), (2.5, 0.250)]

pytest.importorskip("sectionproperties", reason="reference library, tests only")
shapely = pytest.importorskip("shapely", reason="comes with sectionproperties")


def solve(geometry, size):
    from sectionproperties.analysis import Section

    geometry.create_mesh(mesh_sizes=[size])
    section = Section(geometry)
    section.calculate_geometric_properties()
    return section


@pytest.mark.parametrize(("D", "t"), SIZES)
def test_whole_tubes_agree(D, t):
    from sectionproperties.pre.library import circular_hollow_section

    library = solve(circular_hollow_section(d=D, t=t, n=POINTS_AROUND), t * t / 8)
    library.calculate_warping_properties()
    library.calculate_plastic_properties()
    tube = round_section(D, t)
    # reference library: sectionproperties 3
    assert tube.area == pytest.approx(library.get_area(), rel=CLOSE)
    assert tube.I == pytest.approx(library.get_ic()[0], rel=CLOSE)
    assert tube.S == pytest.approx(library.get_z()[0], rel=CLOSE)
    assert tube.Z == pytest.approx(library.get_s()[0], rel=CLOSE)
    assert tube.J == pytest.approx(library.get_j(), rel=CLOSE)
    assert tube.r == pytest.approx(library.get_rc()[0], rel=CLOSE)


@pytest.mark.parametrize(("holes", "turn"), [(1, 0.0), (2, 0.0), (3, 0.0), (4, 45.0), (5, 0.0)])
def test_a_row_of_holes_agrees(holes, turn):
    """Slots through the wall, turned so that they sit as far from the level axis as they can."""
    from sectionproperties.pre import CompoundGeometry

    D, t, d = 1.875, 0.120, 0.4375
    ring = shapely.Point(0, 0).buffer(D / 2, quad_segs=32) - shapely.Point(0, 0).buffer(D / 2 - t, quad_segs=32)
    for hole in range(holes):
        slot = shapely.box(-d / 2, 0, d / 2, D)
        ring = ring - shapely.affinity.rotate(slot, turn + 360 * hole / holes, origin=(0, 0))
    library = solve(CompoundGeometry(shapely.MultiPolygon(shapely.get_parts(ring).tolist())), t * t / 8)
    library.calculate_plastic_properties()
    net = net_section(round_section(D, t), holes, d)
    # reference library: sectionproperties 3; level axis, the holes' worst turn
    assert net.area == pytest.approx(library.get_area(), rel=HOLE_CLOSE)
    assert net.Z == pytest.approx(library.get_s()[0], rel=HOLE_CLOSE)
