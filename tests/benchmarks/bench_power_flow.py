"""What a rig costs to solve. Not part of the normal run:

    python -m pytest tests/benchmarks/bench_power_flow.py

Budgets are for a native interpreter on a small machine; the browser's is about four times slower.
"""

from time import process_time

import pytest

from pycore.powerflow.faults import open_wire, study
from pycore.powerflow.fundamental import solve
from pycore.powerflow.operate import operate
from tests.benchmarks.rigs import rig, warm

pytestmark = pytest.mark.benchmark(timer=process_time)  # what else the machine does must not count
BUDGET = {20: 0.010, 60: 0.032, 200: 0.100}  # s, fundamental, harmonics and temperature


@pytest.mark.parametrize("lamps", BUDGET)
def test_operating_point(benchmark, lamps):
    """Fundamental, harmonics and conductor temperature within the budget, by the best of the rounds."""
    found = benchmark(operate, rig(lamps), warm)

    assert found.flow.solved
    assert benchmark.stats.stats.min <= BUDGET[lamps]


@pytest.mark.parametrize("lamps", [20, 200])
def test_fundamental_alone(benchmark, lamps):
    """Sweeps and one Newton step."""
    assert benchmark(solve, rig(lamps)).solved


def test_overload(benchmark):
    """Sixty lamps far beyond what the feeders carry: raised step by step, lamps dropping out on the way."""
    flow = benchmark.pedantic(solve, (rig(60, size=40.0),), rounds=2)

    assert flow.solved and flow.dropped


def test_open_neutral(benchmark):
    """A broken neutral under sixty lamps, sound and faulty."""
    net = rig(60)

    assert benchmark.pedantic(study, (net, open_wire(net, "F0")), rounds=2).after.solved
