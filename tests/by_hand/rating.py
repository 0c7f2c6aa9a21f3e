"""Questions of the lesson "rating", worked by hand."""

from lessons.units.quantities import Q

_WARM = {"t1": Q(200, "°C"), "t2": Q(250, "°C"), "t": Q(225, "°C")}
_RATED = _WARM | {"cooler": Q(44, "bar"), "hotter": Q(42, "bar")}
ROWS = [
    # question, numbers, answer, working or source
    ("rating.holds", _RATED, Q(43, "bar"), "half of the way: 44 − 0.5 · 2"),
    ("rating.torque", {"load": Q(50, "kN"), "size": Q(20, "mm"), "k": 0.2}, Q(200, "N·m"), "0.2 · 20 mm · 50 kN"),
    ("rating.load", {"load": Q(50, "kN"), "k1": 0.2, "k2": 0.1}, Q(100, "kN"), "50 · 0.2/0.1"),
    ("rating.shell", {"at": Q(20, "bar")}, Q(30, "bar"), "1.5 · 20"),
    ("rating.w1", _RATED | {"p": Q(30, "bar")}, Q(13, "bar"), "43 − 30"),
    (
        "rating.w3",
        {
            "count": 8,
            "size": Q(20, "mm"),
            "torque": Q(200, "N·m"),
            "k": 0.2,
            "gasket": Q(100, "mm"),
            "p": Q(100, "bar"),
        },
        Q(321.460, "kN"),
        "one 200/(0.2 · 0.020) = 50 kN, all 400; line 10 N/mm² · 7853.98 mm² = 78.540 kN",
    ),
]
