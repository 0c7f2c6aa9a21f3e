"""Job cards: their verdicts against hand figures, and any input at all."""
