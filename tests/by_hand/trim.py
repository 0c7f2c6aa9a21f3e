"""Questions of the lesson "trim", worked by hand."""

from lessons.units.quantities import Q

ROWS = [
    # question, numbers, answer, working or source
    ("trim.port", {"travel": Q(50, "%")}, Q(25, "%"), "0.5 · 0.5"),
    (
        "trim.window",
        {"count": 4, "width": Q(20, "mm"), "height": Q(38, "mm"), "lift": Q(10, "mm")},
        Q(800, "mm²"),
        "4 · 20 · 10",
    ),
    ("trim.force", {"port": Q(2, "in"), "dp": Q(100, "psi")}, Q(314.159, "lbf"), "π · 1² · 100"),
    (
        "trim.w2",
        {"port": Q(70, "mm"), "seal": Q(74, "mm"), "dp": Q(20, "bar")},
        Q(904.779, "N"),
        "π/4 · (74² − 70²) = π/4 · 576 = 452.389 mm²; · 2 N/mm²",
    ),
    ("trim.w3", {"share": Q(25, "%")}, Q(50, "%"), "root of 0.25"),
]
