"""How practice went: curves of learning from the histories that came with hand-ins.

They are data and never touch a mark.
"""
