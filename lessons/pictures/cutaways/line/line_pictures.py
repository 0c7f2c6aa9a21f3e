"""The pictures of this room by name, as the catalogue takes them."""

from __future__ import annotations

from lessons.pictures.cutaways.line import gaskets, installation
from lessons.pictures.cutaways.picture import Cutaway

LINE_PICTURES: dict[str, Cutaway] = {
    "gasket_kinds": Cutaway(
        "Four kinds of flange gasket",
        "Four flanged joints, cut through one bolt: a full-face gasket as wide as the flange, a ring gasket inside the "
        "bolts, a spiral-wound gasket between two steel rings, and a ring joint gasket in grooves.",
        gaskets.GASKET_KINDS,
        slides="how far the nuts are tightened",
        starts=0.0,
    ),
    "installation": Cutaway(
        "A control valve in its line",
        "A control valve in its pipe, its actuator upright. Before it stand the upstream block valve and a "
        "strainer with a blow-off, then a reducer on either side of the valve, behind it a drain valve and the "
        "downstream block valve. A pipe with the bypass valve leads over all of it; pipe supports carry the weight.",
        installation.INSTALLATION,
    ),
}
