"""A million sizings with reducers in one call, against the reference library in a loop. Prints ratios per valve.

Run: python -m tests.benchmarks.capacity. Targets: at least 100 for liquid and for gas. One process, one
run, the same draws; the library's loop is timed on the first few thousand of them, both in processor time and as the
best of several rounds taken in turn, so that a busy machine hits both alike. Neither uses a second core.
"""

from time import process_time

import numpy as np
from fluids.control_valve import size_control_valve_g, size_control_valve_l

from valvecalc.gas import GAS_CONSTANT, gas_flow, gas_kv, standard_flow
from valvecalc.liquid import liquid_flow, liquid_kv

MANY, LOOPED, ROUNDS, TARGET = 1_000_000, 4_000, 7, 100
MOLAR_MASS, TEMPERATURE = 0.02897, 300.0


def draws():
    """Half-open valves between reducers: every input its own array, Kv/d² from 0.005 to 0.03 (mm)."""
    rng = np.random.default_rng(20261125)
    sizes = {"d": rng.uniform(0.05, 0.15, MANY)}
    sizes["d1"] = sizes["d"] * rng.uniform(1.1, 2, MANY)
    sizes["d2"] = sizes["d"] * rng.uniform(1.1, 2, MANY)
    kv = rng.uniform(0.005, 0.03, MANY) * (sizes["d"] * 1000) ** 2
    return rng, kv, rng.uniform(6e5, 10e5, MANY), rng.uniform(2e5, 5.5e5, MANY), sizes


def per_valve(ours, theirs):
    """Best processor seconds per valve of either, rounds in turn."""
    times = ([], [])
    for _ in range(ROUNDS):
        for kept, work, count in zip(times, (ours, theirs), (MANY, LOOPED), strict=True):
            start = process_time()
            work()
            kept.append((process_time() - start) / count)
    return [min(kept) for kept in times]


def rows(**arrays):
    return [
        dict(zip(arrays, row, strict=True)) for row in zip(*(a[:LOOPED].tolist() for a in arrays.values()), strict=True)
    ]


def liquid():
    rng, kv, p1, p2, sizes = draws()
    fluid = {
        "rho": rng.uniform(800, 1000, MANY),
        "pv": rng.uniform(1e3, 7e4, MANY),
        "pc": rng.uniform(20e6, 22e6, MANY),
    }
    valve = {"fl": rng.uniform(0.5, 0.95, MANY), **sizes}
    flow = liquid_flow(kv, p1, p2, **fluid, **valve)
    renamed = rows(
        rho=fluid["rho"],
        Psat=fluid["pv"],
        Pc=fluid["pc"],
        P1=p1,
        P2=p2,
        Q=flow,
        D1=sizes["d1"],
        D2=sizes["d2"],
        d=sizes["d"],
        FL=valve["fl"],
    )
    error = np.max(np.abs(liquid_kv(flow, p1, p2, **fluid, **valve) / kv - 1))
    times = per_valve(
        lambda: liquid_kv(flow, p1, p2, **fluid, **valve),
        lambda: [size_control_valve_l(mu=3e-4, Fd=0.46, **row) for row in renamed],
    )
    return *times, error


def gas():
    rng, kv, p1, p2, sizes = draws()
    fluid = {"rho": p1 * MOLAR_MASS / (GAS_CONSTANT * TEMPERATURE), "gamma": rng.uniform(1.1, 1.6, MANY)}
    valve = {"xt": rng.uniform(0.3, 0.8, MANY), **sizes}
    mass_flow = gas_flow(kv, p1, p2, **fluid, **valve)
    renamed = rows(
        gamma=fluid["gamma"],
        P1=p1,
        P2=p2,
        Q=standard_flow(mass_flow, MOLAR_MASS),
        D1=sizes["d1"],
        D2=sizes["d2"],
        d=sizes["d"],
        xT=valve["xt"],
    )
    error = np.max(np.abs(gas_kv(mass_flow, p1, p2, **fluid, **valve) / kv - 1))
    times = per_valve(
        lambda: gas_kv(mass_flow, p1, p2, **fluid, **valve),
        lambda: [
            size_control_valve_g(T=TEMPERATURE, MW=28.97, mu=1.8e-5, Z=1.0, FL=0.85, Fd=0.42, **row) for row in renamed
        ],
    )
    return *times, error


if __name__ == "__main__":
    for name, measure in (("liquid", liquid), ("gas", gas)):
        ours, theirs, error = measure()
        print(
            f"{name}: {ours * 1e9:.0f} ns a valve, library {theirs * 1e9:.0f} ns, ratio {theirs / ours:.0f} "
            f"(target {TARGET}); flow back to coefficient within {error:.1e}"
        )
