"""Long arrays in pieces: the same numbers as one by one."""

import numpy as np
import pytest

from valvecalc.gas import gas_flow
from valvecalc.liquid import liquid_kv

WATER_20 = {"rho": 998.2, "pv": 2.339e3, "pc": 22064e3, "fl": 0.9}


def test_long_arrays_go_in_blocks_and_give_the_same():
    flow = np.linspace(0.001, 0.1, 70001)
    kv = liquid_kv(flow, 6e5, 4e5, **WATER_20)
    assert kv.shape == flow.shape
    assert kv[[0, 40000, -1]] == pytest.approx(
        [float(liquid_kv(q, 6e5, 4e5, **WATER_20)) for q in flow[[0, 40000, -1]]]
    )
    grid = gas_flow(flow[:, None], 1e6, [5e5, 2e5], rho=5, gamma=1.3, xt=0.7)
    assert grid.shape == (70001, 2)
    assert grid[-1, 1] == pytest.approx(gas_flow(flow[-1], 1e6, 2e5, rho=5, gamma=1.3, xt=0.7))
