"""Questions of the lesson "friction", worked by hand."""

from lessons.units.quantities import Q

ROWS = [
    # question, numbers, answer, working or source
    (
        "friction.force",
        {"stem": Q(12.7, "mm"), "rings": 4, "height": Q(6.35, "mm"), "stress": Q(137.895, "bar"), "mu": 0.10},
        Q(698.725, "N"),
        "π·0.5·1·2000·0.10·0.5 = 157.08 lbf",
    ),
    (
        "friction.share",
        {"low": Q(3, "psi"), "high": Q(15, "psi"), "area": Q(69, "in²"), "friction": Q(150, "lbf")},
        Q(36.232, "%"),
        "2·150/69 = 4.348 psi of 12 psi",
    ),
    (
        "friction.read",
        {"friction": 256, "area": 0.032, "low": 0.2e5, "high": 1.0e5},
        Q(20, "%"),
        "2·256/0.032 = 16 000 Pa of 80 000 Pa",
    ),
    (
        "friction.w1",
        {"stem": Q(12.7, "mm"), "rings": 4, "height": Q(6.35, "mm"), "stress": Q(137.895, "bar"), "mu": 0.05},
        Q(78.5398, "lbf"),
        "the same with 0.05: 157.08/2",
    ),
    (
        "friction.w2",
        {"friction": Q(100, "lbf"), "area": Q(100, "in²"), "low": Q(3, "psi"), "high": Q(15, "psi"), "gain": 20},
        Q(0.83333, "%"),
        "2·100/100 = 2 psi of 12 psi = 16.67 %, over 20",
    ),
    ("friction.w3", {"friction": Q(256, "N")}, Q(256, "N"), "20 % · 80 000 Pa · 0.032 m² / 2 = 256 N, drawn 20 % wide"),
]
