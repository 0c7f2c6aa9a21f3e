"""What stands in the air line of an actuator: air set, converter, solenoid valve, quick exhaust, digital positioner.

Shapes that other cut-aways need lie in `parts` above; nothing here is drawn from the numbers of valvecalc.
"""
