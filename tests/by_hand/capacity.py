"""Questions of the lesson "capacity", worked by hand or taken from published examples."""

from lessons.units.quantities import Q

EX = {"pv": Q(70.1, "kPa"), "ff": 0.944238, "p1": Q(680, "kPa")}  # ISA-75.01.01-2012, examples 1 and 2
WATER = 965.4 / 999.103

ROWS = [
    # question, numbers, answer, working or source
    (
        "capacity.flow",
        {"kv": Q(63, "Kv"), "dp": Q(1.6, "bar"), "g": 0.68},
        Q(96.6375, "m³/h"),
        "63·√(1.6/0.68)",
    ),
    (
        "capacity.kv",
        {"flow": Q(50, "m³/h"), "g": 0.999096, "p1": Q(6, "bar"), "p2": Q(4, "bar")},
        Q(35.3394, "Kv"),
        "50/√(2·999.103/998.2) = 35.34: water of 998.2 kg/m³",
    ),
    ("capacity.choked", {**EX, "fl": 0.9}, Q(4.97185, "bar"), "example 1: 497 kPa printed"),
    ("capacity.choked", {**EX, "fl": 0.6}, Q(2.20971, "bar"), "example 2: 221 kPa printed"),
    ("capacity.limit", {"kv": Q(10, "Kv"), "limit": Q(4, "bar"), "dp": Q(9, "bar")}, Q(20, "m³/h"), "10·√4"),
    ("capacity.limit", {"kv": Q(10, "Kv"), "limit": Q(9, "bar"), "dp": Q(4, "bar")}, Q(20, "m³/h"), "10·√4"),
    (
        "capacity.gas",
        {"gamma": 1.3, "p1": Q(100, "kPa"), "xt": 1.0},
        Q(0.0714286, "bar"),
        "100·(1 − 1.3/1.4) kPa; the value of `fluids` for the same",
    ),
    (
        "capacity.w1",
        {**EX, "flow": Q(360, "m³/h"), "g": WATER, "p2": Q(220, "kPa"), "fl": 0.9},
        Q(164.996, "Kv"),
        "example 1: 165 printed, not choked",
    ),
    (
        "capacity.w1",
        {**EX, "flow": Q(360, "m³/h"), "g": WATER, "p2": Q(220, "kPa"), "fl": 0.6},
        Q(238.058, "Kv"),
        "example 2: 238 printed, choked",
    ),
]
