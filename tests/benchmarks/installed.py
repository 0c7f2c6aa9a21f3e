"""Run as `python -m tests.benchmarks.installed`: installed curves of 200 points, and what the import costs.

Times are the best of many in this one run; the import ratio takes fresh processes in turn, numpy then valvecalc, both
compiled beforehand as an installation leaves them. Without that valvecalc alone would be compiled each time: numpy comes
compiled, and this process may have been told to write no bytecode.
"""

import os
import statistics
import subprocess
import sys
import tempfile
import timeit
from time import process_time

import numpy as np

from valvecalc.characteristic import equal_percentage
from valvecalc.installed import installed_flow
from valvecalc.line import line_flow

TRAVEL = np.linspace(0, 1, 200)
PUMP = [600e3, 0, -1e8]


def constant_total():
    return installed_flow(equal_percentage(TRAVEL, 50), 0.3)


def pumped():
    return line_flow(100 * equal_percentage(TRAVEL, 50), PUMP, 2e5, 1e8, 900)


def microseconds(curve):
    """Best processor time of one call; the rest is what else the machine was doing."""
    return min(timeit.repeat(curve, number=200, repeat=15, timer=process_time)) / 200 * 1e6


EVERY_MODULE = "import valvecalc; [getattr(valvecalc, name) for name in valvecalc.__all__]"
CURVES = "import valvecalc.characteristic, valvecalc.installed, valvecalc.line"


def import_seconds(statement, cache):
    """Time of the import alone, without the start of the interpreter, in a fresh process."""
    code = f"import time; t = time.perf_counter(); {statement}; print(time.perf_counter() - t)"
    settings = {**os.environ, "PYTHONDONTWRITEBYTECODE": "", "PYTHONPYCACHEPREFIX": cache}
    shown = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, env=settings)
    return float(shown.stdout)


def import_ratio(statement, pairs=15):
    """Median over pairs measured side by side, numpy then ours."""
    with tempfile.TemporaryDirectory() as cache:
        import_seconds(statement, cache)  # compiles
        times = [(import_seconds("import numpy", cache), import_seconds(statement, cache)) for _ in range(pairs)]
    return statistics.median(ours / theirs for theirs, ours in times)


def main():
    for name, curve, target in (
        ("installed curve, constant total pressure, 200 points", constant_total, "under 100"),
        ("installed curve, pumped line, closed form, 200 points", pumped, "under 100"),
    ):
        print(f"{name}: {microseconds(curve):.1f} microseconds (target {target})")
    for name, statement, target in (
        ("import valvecalc, whose modules load when used", "import valvecalc", "at most 1.20"),
        ("the same with the modules of the installed curve", CURVES, "at most 1.20"),
        ("the same with every module loaded", EVERY_MODULE, "at most 1.30"),
    ):
        print(f"{name}, over import numpy: {import_ratio(statement):.2f} (target {target})")


if __name__ == "__main__":
    main()
