"""What each apprentice gets back: a page with points, replies and drawings, and the e-mail it is sent with.

Nothing here holds a key, or anything of another apprentice.
"""
