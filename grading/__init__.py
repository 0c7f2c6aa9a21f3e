"""The instructor's side: keys of the graded work, marking and reports. Not part of the wheel."""

import sys

# jsonschema, which comes with nbformat, builds a grammar of internet addresses with letters of all languages when it is
# loaded. That takes longer than loading all the rest, and no schema of a notebook asks for it.
sys.modules.setdefault("rfc3987_syntax", None)  # type: ignore[arg-type]
