"""A short soak: 8 kills with a fixed seed. The long one is `make soak`."""

import os

import pytest

from tests.soak.harness import run


@pytest.mark.skipif(os.name == "nt", reason="SIGKILL")
def test_nothing_acknowledged_is_lost_or_doubled_over_8_kills(tmp_path):
    counts = run(tmp_path, kills=8, seed=7, phones=3)
    assert counts["errors"] == []
    assert (counts["lost"], counts["doubled"], counts["findings"]) == ([], [], [])
    assert counts["found"] == counts["acknowledged"] > 20
    assert (counts["stopped"], counts["restored"], counts["left over"]) == (0, 0, 0)
