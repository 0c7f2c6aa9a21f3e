"""Starts the instructor's server on the hub: JupyterLab in the course's folder, with the formgrader and a terminal."""

from __future__ import annotations

import os
import sys


def main() -> None:
    """Serve the course's folder behind the hub until the hub stops it."""
    course = sys.argv[1]
    os.chdir(course)  # where the formgrader looks for its settings
    sys.argv[1:] = [*sys.argv[2:], f"--ServerApp.root_dir={course}", "--ServerApp.default_url=/lab"]
    from jupyterhub.singleuser import main as serve  # here, because a machine without a hub has none

    serve()


if __name__ == "__main__":
    main()
