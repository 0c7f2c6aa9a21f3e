"""Each live picture: legible wherever its sliders stand, finite, and where physics puts it."""
