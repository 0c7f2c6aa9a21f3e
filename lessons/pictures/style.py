"""How the pictures look: colours, hatches, line widths and letters, in one place.

Colours are tints of the Okabe-Ito set, which stays apart for colour-blind eyes; every material also has its own
hatch, and every kind of line its own dash pattern, so that a grey print tells the same.
"""

from __future__ import annotations

from typing import NamedTuple

# Okabe-Ito, at full strength: for lines, arrows and curves.
BLACK = "#000000"
ORANGE = "#E69F00"
SKY = "#56B4E9"
GREEN = "#009E73"
YELLOW = "#F0E442"
BLUE = "#0072B2"
VERMILION = "#D55E00"
PURPLE = "#CC79A7"
GREY = "#777777"

# For curves: the same place in the list is always the same colour together with the same dashes.
CYCLE = (
    (BLUE, "solid"),
    (VERMILION, (0, (6, 2))),
    (GREEN, (0, (1, 1.5))),
    (PURPLE, (0, (6, 2, 1, 2))),
    (ORANGE, (0, (3, 1.5))),
    (BLACK, (0, (8, 2, 1, 2, 1, 2))),
)

FONT = "DejaVu Sans"  # comes with matplotlib, so a picture is the same on every machine
SMALLEST = 8.0  # [pt] no letter in any picture is smaller
LETTERS = 9.0  # [pt] names of parts
NUMBERS = 8.5  # [pt] numbers in their circles
WIDTH = 525.0  # [pt] widest picture: 700 px in a browser


class Look(NamedTuple):
    """How one material or kind of line is drawn; without a fill it is an open line."""

    fill: str | None
    hatch: str = ""
    edge: str = BLACK
    width: float = 0.9
    dashes: object = "solid"
    says: str = ""


# Cut metal is hatched, neighbours in opposite directions; shafts, studs and springs are never cut, as usual in a
# shop drawing.
LOOKS = {
    "body": Look("#E3E1DC", "//", says="body casting, cut"),
    "bonnet": Look("#D5D3CE", "\\\\", says="bonnet casting, cut"),
    "casting": Look("#ECEBE7", says="casting seen from outside"),
    "seat": Look("#EBA47A", "\\\\\\\\", says="seat ring, cut"),
    "cage": Look("#E2B4CD", "////", says="cage, cut"),
    "cage behind": Look("#F3DFE9", width=0.7, says="cage, far half"),
    "guide": Look("#D9A3C4", "xxxx", width=0.8, says="guide bushing, cut"),
    "trim": Look("#F8D594", says="plug, disc, stem, not cut"),
    "trim cut": Look("#F8D594", "////", says="plug, cut"),
    "trim behind": Look("#FBE7C4", width=0.7, says="plug or ball behind the cut"),
    "packing": Look("#7FCFB7", "xxxxx", width=0.7, says="packing ring"),
    "hard ring": Look("#D3EBDD", "///", width=0.8, says="hard packing ring, cut"),
    "soft": Look("#4A4A4A", says="rubber, gasket, seal"),
    "liner": Look("#6A6A6A", says="rubber liner, cut"),
    "ring": Look("#C9C9C9", "\\\\\\", width=0.8, says="metal ring, cut"),
    "bolt": Look("#BDBDBD", width=0.7, says="stud, bolt, nut"),
    "steel": Look("#CFD4D8", says="steel part, not cut"),
    "sheet": Look("#C3CAD0", width=1.0, says="pressed steel casing, cut"),
    "fluid high": Look("#9BCDEE", width=0.7, says="fluid before the valve"),
    "fluid low": Look("#DCF0FB", width=0.7, says="fluid after the valve"),
    "high": Look("#9BCDEE", width=0.0),
    "low": Look("#DCF0FB", width=0.0),
    "fluid other": Look("#C4E8D9", width=0.7, says="second fluid"),
    "air": Look("#F8F3B0", width=0.7, says="instrument air"),
    "air within": Look("#F8F3B0", width=0.0),
    "open air": Look("#FFFFFF", width=0.7),
    "plate": Look("#FFFFFF", width=0.8),
    "dot": Look("#111111", edge="#FFFFFF", width=0.6),
    "dark": Look("#222222", width=0.5, says=""),
    "flow": Look(None, edge=BLUE, width=1.7, says="flow path"),
    "flow head": Look(BLUE, edge=BLUE, width=0.3),
    "air flow": Look(None, edge=VERMILION, width=1.5, dashes=(0, (4, 1.5)), says="instrument air path"),
    "air head": Look(VERMILION, edge=VERMILION, width=0.3),
    "curve": Look(None, edge=BLUE, width=1.8),
    "axis": Look(None, width=0.8),
    "point": Look(VERMILION, width=0.6),
    "edge": Look(None, width=0.6),
    "outline": Look(None, width=0.9),
    "wire": Look(None, width=5.0, edge="#333333"),
    "wire core": Look(None, width=3.4, edge="#C8CDD2"),
    "thin wire": Look(None, width=3.0, edge="#333333"),
    "thin wire core": Look(None, width=1.7, edge="#C8CDD2"),
    "rubber": Look(None, width=3.2, edge="#222222", says="diaphragm"),
    "leader": Look(None, width=0.6, edge="#222222"),
}
