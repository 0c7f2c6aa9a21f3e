"""What each part is for, in one plain sentence: one name, one meaning, in every picture and matching question."""

from __future__ import annotations

WORDS = {
    # body and trim
    "body": "Holds the pressure and leads the fluid to the seat and away from it.",
    "flange": "Joins the valve to the pipe.",
    "web": "Wall inside the body that parts inlet from outlet and carries the seat ring.",
    "seat ring": "Ring the plug closes on; it can be taken out and renewed.",
    "plug": "Moves in the seat ring and sets the free area for the flow.",
    "guide bushing": "Hard sleeve that keeps the plug in the middle of the seat ring.",
    "gasket": "Seals the joint between body and bonnet.",
    # bonnet and packing
    "bonnet": "Closes the top of the body and carries the packing box and the yoke.",
    "body studs": "Hold the bonnet down on the body and keep the gasket tight.",
    "packing box": "Bore in the bonnet round the stem that holds the packing.",
    "packing rings": "Seal the moving stem so that the fluid stays inside.",
    "lantern ring": "Spacer with an open waist that leads oil, purge gas or a leak between two sets of packing.",
    "packing follower": "Sleeve that passes the force of the packing flange on to the packing rings.",
    "packing flange": "Plate pulled down by two studs; it presses on the packing follower.",
    "packing studs": "Their nuts set how hard the packing is pressed.",
    "stem": "Carries the actuator's movement to the plug.",
    # yoke and actuator
    "yoke": "Frame that holds the actuator on the bonnet.",
    "stem connector": "Clamp that joins the actuator stem to the valve stem; it sets the closed position.",
    "travel pointer": "Moves with the stem and shows the travel.",
    "travel scale": "Plate on the yoke where the travel is read.",
    "actuator stem": "Carries the force of the actuator down to the stem connector.",
    "diaphragm": "Rubber sheet that air presses on; it seals the air in and lets the plate move.",
    "diaphragm plate": "Stiff disc that turns the air pressure on the diaphragm into a force on the actuator stem.",
    "spring": "Pushes against the air and moves the valve to its fail position when the air is lost.",
    "spring adjuster": "Sets how far the spring is pressed together at the start, and so the bench set.",
    "spring seat": "Disc the end of the spring rests on.",
    "upper casing": "Upper half of the diaphragm housing.",
    "lower casing": "Lower half of the diaphragm housing.",
    "casing bolts": "Hold the two halves of the casing and the rim of the diaphragm together.",
    "air connection": "Where the air from the positioner comes in.",
    "vent": "Lets air in and out on the spring side; it must stay open.",
    "stem seal": "Keeps the air in where the actuator stem leaves the casing.",
}
