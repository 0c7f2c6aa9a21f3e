"""Names that questions had in earlier versions, so that what was answered to them still counts.

A question that is gone has no entry: its answer stays in the file it was typed in, and in the record of progress.
"""

from __future__ import annotations

_RENAMED = {"capacity.predict2": "capacity.jet"}  # earlier name -> the name it has today


def present_id(question_id: str) -> str:
    """Return the id a question has today; an id that was never changed comes back as it is.

    >>> present_id("capacity.predict2"), present_id("capacity.jet")
    ('capacity.jet', 'capacity.jet')
    """
    return _RENAMED.get(question_id, question_id)
