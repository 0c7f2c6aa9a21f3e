"""What every test of the instructor's side may rely on."""

from __future__ import annotations

import functools

import nbgrader.api
from alembic.config import Config
from alembic.script import ScriptDirectory
from nbgrader.dbutil import _temp_alembic_ini


@functools.cache
def newest() -> str:
    """Return the version of the library's tables, which it asks of a program of its own for each new gradebook."""
    with _temp_alembic_ini("sqlite://") as settings:
        return str(ScriptDirectory.from_config(Config(settings)).get_current_head())


nbgrader.api.get_alembic_version = newest
