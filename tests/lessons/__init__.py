"""What the readers' side promises: questions, pictures, cards, notebooks."""
