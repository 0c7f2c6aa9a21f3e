"""Questions of the lesson "drop", worked by hand. Water of 999.103 kg/m³, for which Kv is defined."""

from lessons.units.quantities import Q

ROWS = [
    # question, numbers, answer, working or source
    (
        "drop.root",
        {"q": Q(50, "m³/h"), "dp1": Q(1.5, "bar"), "dp2": Q(6, "bar")},
        Q(100, "m³/h"),
        "4 times the drop, √4 = 2 times the flow",
    ),
    ("drop.flow", {"kv": Q(40, "Kv"), "dp": Q(4, "bar")}, Q(80, "m³/h"), "40 · √4"),
    ("drop.flow", {"kv": Q(40, "Cv"), "dp": Q(9, "psi")}, Q(120, "gpm"), "40 · √9, definition of Cv"),
    ("drop.flow", {"kv": Q(28.2715, "Kv"), "dp": Q(0.5, "bar")}, Q(20, "m³/h"), "28.2715 · √0.5 = 19.99"),
    ("drop.need", {"kv": Q(40, "Kv"), "q": Q(120, "m³/h")}, Q(9, "bar"), "(120/40)²"),
    ("drop.need", {"kv": Q(40, "Cv"), "q": Q(120, "gpm")}, Q(9, "psi"), "(120/40)²"),
    (
        "drop.w2",
        {"p1": Q(8, "bar"), "p2": Q(4, "bar"), "kv": Q(25, "Kv")},
        Q(50, "m³/h"),
        "25 · √(8 − 4)",
    ),
    ("drop.w3", {"q": Q(50, "m³/h"), "dp": Q(4, "bar")}, Q(25, "Kv"), "50 ÷ √4"),
    ("drop.w3", {"q": Q(50, "gpm"), "dp": Q(4, "psi")}, Q(25, "Cv"), "50 ÷ √4"),
]
