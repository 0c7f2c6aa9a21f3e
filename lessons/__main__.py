"""`python -m lessons`: opens the lessons in JupyterLab on a working copy."""

from __future__ import annotations

import sys

from lessons.jupyter.launch import main

sys.exit(main())
