"""Still charts and sketches that questions and live pictures show.

Each takes numbers and gives a figure; nothing here moves by a slider.
"""
