"""Starts the instructor's commands."""

import sys

from grading.commands import main

sys.exit(main())
