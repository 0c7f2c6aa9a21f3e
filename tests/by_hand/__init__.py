"""Every number question worked by hand once: one module per lesson, each with ROWS."""

import importlib
import pkgutil

ROWS = [
    row
    for module in sorted(module.name for module in pkgutil.iter_modules(__path__))
    for row in importlib.import_module(f"{__name__}.{module}").ROWS
]
