"""Questions of the lesson "stroke", worked by hand."""

from lessons.units.quantities import Q

ROWS = [
    # question, numbers, answer, working or source
    ("stroke.current", {"ma": Q(8, "mA")}, Q(25, "%"), "(8 − 4)/16"),
    ("stroke.psi", {"travel": Q(50, "%")}, Q(9, "psi"), "3 + 0.5 · 12"),
    ("stroke.split", {"ma": Q(14, "mA")}, Q(25, "%"), "(14 − 12)/8"),
    (
        "stroke.gap",
        {"zero": 0.03, "span": -0.03, "gap": 0.012, "bow": 0.0, "seed": 1},
        Q(1.3, "%"),
        "table of seed 1: up 2.4 26.8 50.8 75.3 99.4, down 3.6 27.9 52.1 76.4 100.5; 1.2 1.1 1.3 1.1 1.1",
    ),
    (
        "stroke.span",
        {"zero": 0.02, "span": -0.035, "gap": 0.004, "bow": 0.0, "seed": 20},
        Q(-3.4, "%"),
        "table of seed 20: averages (1.7 + 2.1)/2 = 1.9 and (98.3 + 98.7)/2 = 98.5; 98.5 − 1.9 − 100",
    ),
    (
        "stroke.linear",
        {"low": Q(0.4, "%"), "middle": Q(50.2, "%"), "high": Q(99.8, "%")},
        Q(0.1, "%"),
        "averages 0.4, 50.2, 99.8; 50.2 − 50.1",
    ),
    (
        "stroke.t86",
        {"dead": Q(0.3, "s"), "constant": Q(1.2, "s")},
        Q(2.703, "s"),
        "0.3 + 1.2 · ln(1/0.135) = 2.703",
    ),
    ("stroke.w1", {"ma": Q(8, "mA")}, Q(50, "%"), "half way from 4 to 12 mA: half shut"),
    (
        "stroke.w2",
        {"zero": 0.024, "span": -0.042, "gap": 0.006, "bow": 0.003, "seed": 60},
        Q(-4.15, "%"),
        "table of seed 60: averages (2.1 + 2.7)/2 = 2.4 and (98.0 + 98.5)/2 = 98.25; 98.25 − 2.4 − 100",
    ),
    ("stroke.w4", {"dead": 0.3, "constant": 1.2}, Q(2.703, "s"), "0.3 + 1.2 · ln(1/0.135), as stroke.t86"),
]
