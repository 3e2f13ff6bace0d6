"""The weld line against scipy: the complete elliptic integral, and the arc length integrated."""

import math

import pytest

from core.sleeve import EndCut, complete_elliptic_e, weld_line

integrate = pytest.importorskip("scipy.integrate", reason="reference library, tests only")
special = pytest.importorskip("scipy.special", reason="reference library, tests only")

CLOSE = 1e-12


@pytest.mark.parametrize("parameter", [0.0, 1e-9, 0.25, 0.5, 0.75, 0.99, 0.999999])
def test_the_elliptic_integral(parameter):
    assert complete_elliptic_e(parameter) == pytest.approx(special.ellipe(parameter), rel=CLOSE)  # reference library: scipy.special.ellipe


@pytest.mark.parametrize("end", ["scarf", "pointed", "fishmouth"])
@pytest.mark.parametrize(("D", "mitre"), [(0.75, 15), (1.625, 45), (1.625, 60), (2.5, 75)])
def test_the_weld_line(end, D, mitre):
    radius, slope = D / 2, math.tan(math.radians(mitre))
    # reference library: scipy.integrate.quad of the curve's length element, a quarter at a time
    quarter, _ = integrate.quad(lambda a: radius * math.hypot(1, slope * math.sin(a)), 0, math.pi / 2, epsabs=0, epsrel=1e-13)
    assert weld_line(D, EndCut(end, mitre)) == pytest.approx(4 * quarter, rel=CLOSE)


def test_the_figures_of_the_fact_sheet():
    # published: project fact sheet, 1.625 in at 60 degrees and square; scipy gives the first as 4 r sec m ellipe(sin^2 m)
    assert weld_line(1.625, EndCut("pointed", 60)) == pytest.approx(7.871864, abs=5e-7)
    assert weld_line(1.625, EndCut("square", 0)) == pytest.approx(5.105088, abs=5e-7)
