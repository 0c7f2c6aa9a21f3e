"""The page that a lesson is in JupyterLab: no code in sight, a control for each question, the course beside it.

`page_side/` is the extension JupyterLab loads: plain JavaScript modules, nothing is built. `course` is what it asks the
kernel. How a question is judged and what is remembered is not decided here.
"""

from pathlib import Path

EXTENSIONS = Path(__file__).parent / "page_side"  # a folder of extensions, as JupyterLab wants it
"""Where JupyterLab finds the page's extension."""
LAB_SETTINGS = Path(__file__).parent / "settings"  # as Jupyter wants it, with `labconfig` and `kernels` below
"""Where JupyterLab finds which of its parts it leaves out, and how a kernel starts without a debugger."""
