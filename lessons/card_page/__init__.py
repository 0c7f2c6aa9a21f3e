"""The page a job card is shown on: its boxes, sliders, answer, picture, and what is taken along.

Nothing here knows one card from another; what a card asks and says lives in `cards`.
"""
