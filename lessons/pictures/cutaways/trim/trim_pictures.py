"""Trim and packing by name: plugs, cages, guiding, packing boxes."""

from __future__ import annotations

from lessons.pictures.cutaways.picture import Cutaway
from lessons.pictures.cutaways.trim import characteristic_shapes, guiding, packing_box, packing_sets

TRIM_PICTURES: dict[str, Cutaway] = {
    "packing_box": Cutaway(
        "Packing box",
        "Cut through the packing box of a bonnet. From the bottom up, round the stem: bottom ring, "
        "packing rings, lantern ring, packing rings, packing follower, and the packing flange with its "
        "two studs.",
        packing_box.PACKING_BOX,
    ),
    "v_ring_packing": Cutaway(
        "PTFE V-rings on a spring",
        "Cut through a packing box with four V-rings round the stem, their mouths open downwards to the fluid. "
        "Below them stand the lower adapter and a packing spring, above them the upper adapter and the packing "
        "follower, whose shoulder rests on the bonnet.",
        packing_sets.V_RING_PACKING,
    ),
    "graphite_packing": Cutaway(
        "Die-formed graphite, live-loaded",
        "Cut through a packing box with three die-formed rings round the stem between two end rings, on a spacer "
        "bushing. The packing follower presses them, and under each packing nut stands a stack of disc springs "
        "that goes on pressing when they settle.",
        packing_sets.GRAPHITE_PACKING,
    ),
    "plug_contours": Cutaway(
        "Plugs for the three characteristics",
        "Three plugs in their seat rings, each with its curve of flow against travel. The quick opening "
        "plug is a flat disc, the linear plug a cone with slightly bulging sides, the equal percentage "
        "plug a blunt bullet.",
        characteristic_shapes.PLUGS,
        tuple((f"plug-{i}", f"seat-{i}-{side}") for i in range(3) for side in ("left", "right")),
    ),
    "cage_windows": Cutaway(
        "Cage windows for the three characteristics",
        "Three cages seen from outside, each with its curve of flow against travel. The quick opening "
        "window is widest at its lower edge, the linear window is a rectangle, the equal percentage "
        "window widens upwards like a trumpet.",
        characteristic_shapes.WINDOWS,
    ),
    "plug_guiding": Cutaway(
        "Ways of guiding a plug",
        "Five plugs side by side, each kept in the middle of its seat in another way: top guiding, top "
        "and bottom guiding, cage guiding, port guiding and stem guiding.",
        guiding.GUIDING,
        tuple((f"{way} plug", f"{way} seat-{side}") for way in guiding.WAYS for side in ("left", "right")),
    ),
}
