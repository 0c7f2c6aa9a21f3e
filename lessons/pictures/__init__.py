"""What is drawn: cut-aways, charts, live pictures, and the style they share.

No questions and no words of a lesson; a picture takes numbers and gives a figure.
"""
