"""Starting it all: the launcher, what JupyterLab's server is told, and the server of the job cards.

Nothing here knows what a lesson or a card says.
"""
