"""What stands in the air line of an actuator: air set, converter, solenoid valve, quick exhaust, digital positioner."""
