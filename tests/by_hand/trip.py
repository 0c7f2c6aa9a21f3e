"""Questions of the lesson "trip", worked by hand."""

from lessons.units.quantities import Q

_MEAN = {"mean": Q(50, "years"), "proof": Q(2, "years")}
_COUNTS = {"stuck": 40, "vent": 20, "seat": 25, "late": 15}
ROWS = [
    # question, numbers, answer, working or source
    ("trip.demand", _MEAN, Q(2, "%"), "2/50/2 = 0.02"),
    ("trip.coverage", _COUNTS, Q(60, "%"), "(40 + 20)/100"),
    (
        "trip.partial",
        {**_MEAN, "stroke": Q(3, "months"), "found": Q(60, "%")},
        Q(0.95, "%"),
        "0.6·0.25 + 0.4·2 = 0.95 years; 0.95/50/2 = 0.0095",
    ),
    (
        "trip.spring",
        {"low": Q(0.6, "bar"), "area": Q(640, "cm²"), "dp": Q(3.5, "bar"), "port": Q(70, "mm")},
        Q(2493, "N"),
        "0.6e5·0.064 = 3840 N less 3.5e5·π/4·0.070² = 1347 N",
    ),
    ("trip.bypass", {"hours": Q(4, "h"), "proof": Q(12, "months")}, Q(0.04563, "%"), "4/8766 = 0.0004563"),
    (
        "trip.load",
        {"count": 6, "rate": Q(12000, "N/mm"), "load": Q(3000, "N"), "settled": Q(0.5, "mm")},
        Q(2000, "N"),
        "12000/6 = 2000 N/mm; 3000 − 2000·0.5",
    ),
    (
        "trip.w1",
        {**_MEAN, **_COUNTS, "stroke": Q(3, "months")},
        Q(0.95, "%"),
        "coverage 0.6; 0.6·0.25 + 0.4·2; over 100",
    ),
    ("trip.w4", {"demands": 100, "mean": Q(50, "years")}, Q(1, "years"), "2·50/100"),
]
