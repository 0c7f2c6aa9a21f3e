"""The working of a question: its formula read, worked out and told, and the wrong workings that apprentices make of it.

Nothing that knows a question, its variants or its key belongs here.
"""
