"""Questions of the lesson "balance", worked by hand. A 2 in port has π in² and 2π in of rim."""

from lessons.units.quantities import Q

PORT = {"port": Q(2, "in"), "dp": Q(100, "psi"), "friction": Q(50, "lbf"), "load": Q(40, "lbf/in")}
AREA = {"area": Q(100, "in²")}

ROWS = [
    # question, numbers, answer, working or source
    (
        "balance.unbalance",
        {"p1": Q(100, "psi"), "p2": Q(0, "psi"), "port": Q(2, "in")},
        Q(314.159, "lbf"),
        "100 · π · 2²/4",
    ),
    (
        "balance.unbalance",
        {"p1": Q(22, "bar"), "p2": Q(12, "bar"), "port": Q(46, "mm")},
        Q(1661.90, "N"),
        "1 N/mm² · π · 46²/4",
    ),
    ("balance.seat", {**PORT, **AREA, "low": Q(6, "psi")}, Q(37.5, "lbf/in"), "(600 − 314.16 − 50)/6.28319"),
    ("balance.seat", {**PORT, **AREA, "low": Q(8, "psi")}, Q(69.4, "lbf/in"), "(800 − 314.16 − 50)/6.28319"),
    ("balance.needed", {**PORT, **AREA}, Q(6.15487, "psi"), "(314.159 + 50 + 40 · 6.28319)/100"),
    ("balance.supply", {**PORT, **AREA, "high": Q(15, "psi")}, Q(21.1549, "psi"), "15 + 615.487/100"),
    (
        "balance.w1",
        {**PORT, **AREA, "low": Q(3, "psi")},
        Q(89.7887, "lbf/in"),
        "(300 + 314.159 − 50)/6.28319 = 564.159/6.28319",
    ),
    ("balance.w2", {**PORT, **AREA, "low": Q(6, "psi")}, Q(95.07, "psi"), "(600 − 50 − 251.327)/3.14159"),
    ("balance.w2", {**PORT, **AREA, "low": Q(8, "psi")}, Q(158.7, "psi"), "(800 − 50 − 251.327)/3.14159"),
    (
        "balance.w4",
        {**PORT, **AREA, "low": Q(3, "psi"), "high": Q(15, "psi")},
        Q(21.1549, "psi"),
        "15 + 615.487/100, as balance.supply",
    ),
]
