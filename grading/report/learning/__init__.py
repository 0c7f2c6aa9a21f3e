"""How practice went: curves of learning from the histories that came with hand-ins. Data only, and never marked."""
