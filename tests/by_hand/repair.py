"""Questions of the lesson "repair", worked by hand."""

from lessons.units.quantities import Q

ROWS = [
    # question, numbers, answer, working or source
    (
        "repair.spring",
        {"low": Q(3, "psi"), "high": Q(15, "psi"), "travel": Q(1.5, "in")},
        Q(0.375, "in"),
        "300 lbf over 800 lbf/in = 0.375 in; 3/12 × 1.5",
    ),
    ("repair.rings", {"stem": Q(10, "mm"), "box": Q(20, "mm")}, Q(47.124, "mm"), "π × 15"),
    (
        "repair.w2",
        {"area": Q(100, "in²"), "low": Q(3, "psi"), "high": Q(15, "psi")},
        Q(300, "lbf"),
        "100 in² · 3 psi = 300 lbf",
    ),
]
