"""Questions of the lesson "installing", worked by hand."""

from lessons.units.quantities import Q

ROWS = [
    # question, numbers, answer, working or source
    (
        "installing.support",
        {"weight": Q(1000, "N"), "a": Q(300, "mm"), "b": Q(700, "mm")},
        Q(700, "N"),
        "1000 · 700/1000: the left one is nearer",
    ),
    ("installing.level", {"weight": Q(400, "N"), "arm": Q(500, "mm")}, Q(200, "N·m"), "400 · 0.5"),
    (
        "installing.flush",
        {"speed": Q(2, "m/s"), "d": Q(100, "mm")},
        Q(56.549, "m³/h"),
        "π/4 · 0.1² = 0.00785398 m²; · 2 · 3600",
    ),
    ("installing.strained", {"kv": Q(20, "Kv"), "flow": Q(30, "m³/h")}, Q(2.25, "bar"), "1.5²"),
    ("installing.w2", {"kv": Q(30, "Kv"), "strainer": Q(40, "Kv")}, Q(24, "Kv"), "1/√(1/900 + 1/1600) = 30 · 40/50"),
]
