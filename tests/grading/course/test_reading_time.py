"""Twice the size takes about twice the time, at most three times: for every pattern, and for everything that reads foreign text.

Ratios of processor time, so that they hold on any machine and beside other work.
"""

from __future__ import annotations

import functools
import io
import json
import time
import zipfile
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from grading.course import plain
from grading.course.roster import Apprentice, read_roster
from grading.given_out.judged_answers import mark_answers
from grading.handins import handin
from grading.marking import copying_signs, marked_notebook
from grading.taking_in import mails, owners
from grading.taking_in.incoming import walk
from lessons.questions import progress, read_number, reading
from tests.grading.classroom import CLASS, LESSON, QUESTIONS, classroom, released
from tests.grading.course.patterns import MISFITS, Pattern, evil, patterns

ROOT = Path(__file__).resolve().parents[3]
PATTERNS = [*patterns(ROOT / "grading"), *patterns(ROOT / "lessons")]
OWNERS = owners.Owners({"4711": Apprentice("4711", "Ab Cd")}, [LESSON], {})
WORTH_A_LOOK = 0.003  # seconds for 3000 letters; a pattern that tries every pair of them takes ten times as long
MOST = 3.0


def took(run: Callable[[], Any]) -> float:
    start = time.process_time()
    run()
    return time.process_time() - start


def ratio(run: Callable[[int], Any], size: int) -> float:
    """Return how much longer twice the size takes; the best of some tries, since other work only ever adds."""
    found = []
    for _ in range(4):
        short = min(took(lambda: run(size)) for _ in range(3))
        found.append(min(took(lambda: run(2 * size)) for _ in range(3)) / max(short, 1e-3))  # less says nothing
        if found[-1] <= MOST:
            break
    return min(found)


def backtracks(pattern: Pattern) -> Iterator[str]:
    """Give the texts on which a pattern takes more time than their length is worth."""

    def text(before: str, unit: str, misfit: str, size: int) -> str:
        return before + unit * (size // len(unit)) + misfit

    for before, unit in evil(pattern):
        for misfit in MISFITS:
            # A short one first: a pattern may also take twice as long for each letter, and so for ever.
            small = took(lambda: pattern.run(text(before, unit, misfit, 24)))  # noqa: B023 - run at once
            if small > 0.05 or (
                took(lambda: pattern.run(text(before, unit, misfit, 3_000))) > WORTH_A_LOOK  # noqa: B023
                and ratio(lambda size: pattern.run(text(before, unit, misfit, size)), 1_500) > MOST  # noqa: B023
            ):
                yield f"{before!r}, many {unit!r}, {misfit!r}"


def test_the_patterns_are_found() -> None:
    places = {pattern.place.split(":")[0] for pattern in PATTERNS}
    assert {"grading/handins/handin.py", "grading/taking_in/owners.py", "lessons/questions/reading.py"} <= places


@pytest.mark.parametrize("pattern", PATTERNS, ids=lambda pattern: f"{pattern.place}-{pattern.method}")
def test_a_pattern_does_not_backtrack(pattern: Pattern) -> None:
    assert list(backtracks(pattern)) == []


@pytest.mark.parametrize(
    ("text", "method"),
    [(r"\s*ask\(\s*[\"']([^\"']+)[\"']\s*\)\s*;?\s*", "fullmatch"), (r"(\w+)+x", "match"), (r"\s+$", "sub")],
)
def test_one_that_does_is_told(text: str, method: str) -> None:
    """So that the test above can fail: the first is the pattern that took 20 s for 64 kB."""
    assert next(backtracks(Pattern("here", text, 0, method)), None)


def _notebook(*cells: dict[str, Any]) -> bytes:
    return json.dumps({"cells": list(cells), "metadata": {}}).encode()


def _code(source: str, **more: Any) -> dict[str, Any]:
    return {"cell_type": "code", "source": source, "metadata": {}, **more}


def _read_and_mark(data: bytes) -> None:
    given_in = handin.read(data)
    marked_notebook.marked_notebook(_template(), given_in, mark_answers(given_in, QUESTIONS, CLASS[0]))
    copying_signs.shows_other(given_in, QUESTIONS, CLASS[0])


@functools.cache
def _template() -> marked_notebook.Template:
    import tempfile

    with tempfile.TemporaryDirectory() as folder:
        return marked_notebook.Template(json.dumps(released(classroom(Path(folder)))))


def _mail(head: str) -> mails.Mail:
    return mails.read_mail(f"{head}\r\n\r\nx".encode())


def _zip(count: int, name: str) -> bytes:
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w") as archive:
        for number in range(count):
            archive.writestr(f"{number}{name}.ipynb", b"{}")
    return packed.getvalue()


W1 = QUESTIONS[0].id
SHOWN = {"output_type": "display_data", "data": {"text/html": "badge x<" * 9, "text/plain": "x " * 50}, "metadata": {}}
# name -> what is read at a size, and a size at which it takes some hundredths of a second. Where reading takes next to
# nothing it is a smaller one, or the machine's handing out of memory for the text would be measured; a reader that tries
# every pair of letters would take minutes there too.
READERS: dict[str, tuple[Callable[[int], Any], int]] = {
    "asks with blanks": (lambda n: handin.asked('ask("x")' + " " * n + "!"), 1_000_000),
    "answer with blanks": (lambda n: handin.answered(" " * n + "%%answer"), 300_000),
    "a first line that is long": (lambda n: handin.unnamed("%" * n + "x" * n), 300_000),
    "a notebook of cells": (lambda n: _read_and_mark(_notebook(*[_code("x = 1")] * n)), 500),
    "a notebook of answers": (lambda n: _read_and_mark(_notebook(*[_code(f"%%answer {W1}\n1 %")] * n)), 500),
    "a notebook of questions": (
        lambda n: _read_and_mark(_notebook(*[_code(f'ask("{W1}")', outputs=[SHOWN])] * n)),
        200,
    ),
    "a cell of lines": (lambda n: _read_and_mark(_notebook(_code("x\n" * n))), 200_000),
    "a cell of blanks": (lambda n: _read_and_mark(_notebook(_code('ask("' + " " * n))), 500_000),
    "an answer of lines": (lambda n: _read_and_mark(_notebook(_code(f"%%answer {W1}\n" + "1 \r" * n))), 200_000),
    "an output of badges": (lambda n: _read_and_mark(_notebook(_code(f'ask("{W1}")', outputs=[SHOWN] * n))), 2_000),
    "nesting": (lambda n: _refused(b'{"cells":' + b"[" * n), 2_000_000),
    "unseen signs": (lambda n: plain.text("\x1b\r\u202e" * n), 200_000),
    "a subject": (lambda n: _mail("Subject: " + "a" * n), 2_000_000),
    "a coded subject": (lambda n: _mail("Subject: " + "=?utf-8?q?a?= " * n), 100_000),
    "a subject of lines": (lambda n: _mail("Subject: a" + "\r\n a" * n), 50_000),
    "a date": (lambda n: _mail("Date: Mon, " + "1 " * n), 1_000_000),
    "a kind": (lambda n: _mail('Content-Type: multipart/mixed; x="' + '";"' * n), 200_000),
    "a file name": (lambda n: _mail("Content-Disposition: attachment; " + "filename*0=a; " * n), 100_000),
    "headers": (lambda n: _mail("\r\n".join(["A: b"] * n)), 20_000),
    "lines of a part": (lambda n: mails.read_mail(_parts(20) + b"\n" * n), 5_000),
    "parts": (lambda n: mails.read_mail(b"Content-Type: multipart/mixed; boundary=b\n\n" + b"--b\n\nx\n" * n), 2_000),
    "kinds that are none": (lambda n: mails.read_mail(b"content-type:" + b" " * n + b"\ncontent-type:"), 2_000_000),
    "blanks and kinds": (lambda n: mails.read_mail(b"content-type:\n" * n), 20_000),
    "members of a zip": (lambda n: _walked("a.zip", _zip(n, "x")), 200),
    "names in a zip": (lambda n: _walked("a.zip", _zip(20, "/a" * n)), 5_000),
    "mails of a mailbox": (lambda n: _walked("a.mbox", b"From x\nSubject: y\n\nz\n\n" * n), 200),
    "lines of a mailbox": (lambda n: _walked("a.mbox", b"From x\n" + b"From \n" * n), 20_000),
    "a name": (lambda n: list(owners.badges_in("a-1 " * n, owners.Badges(["4711"]), [LESSON])), 50_000),
    "a sender": (lambda n: OWNERS.known.by_name("Ab " * n + "a@" * n), 20_000),
    "addresses in a mail": (lambda n: mails.addresses("a@b, @" * n), 50_000),
    "a class list": (lambda n: _roster("badge,name,units\n" + "".join(f"b{i},x,si\n" for i in range(n))), 5_000),
    "a class list of quotes": (lambda n: _roster('badge,name\n"' + '""' * n), 20_000),
    "progress": (lambda n: _progress(b'{"what": "answer", "id": "x", "text": "1", "tag": "a"}\n' * n), 3_000),
    "progress without ends": (lambda n: _progress(b"[" * n), 1_000_000),
    "a number": (lambda n: read_number.number("1 " * n, "%"), 1_000_000),
    "a number in words": (lambda n: read_number.number("I think " * n, "%"), 100_000),
    "a working": (lambda n: read_number.number("1 = " * n, "%"), 250_000),
    "how sure": (lambda n: reading.sureness("sure " * n), 100_000),
    "options in words": (lambda n: reading.picked("it falls " * n, (("a", "It falls"), ("b", "It rises"))), 100_000),
    "letters": (lambda n: reading.letters("a " * n, "abc"), 100_000),
    "pairs": (lambda n: reading.pairs("1" * n, ("1",), (("a", "A"), ("b", "B"), ("c", "C"))), 500_000),
    "pairs that fit": (lambda n: reading.pairs("1a" * n, ("1",), (("a", "A"), ("b", "B"), ("c", "C"))), 100_000),
}


def _refused(data: bytes) -> None:
    with pytest.raises(handin.UnusableError):
        handin.read(data)


def _parts(deep: int) -> bytes:
    return "".join(f"Content-Type: multipart/mixed; boundary=b{n}\n\n--b{n}\n" for n in range(deep)).encode()


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    return tmp_path


def _walked(name: str, data: bytes) -> None:
    path = Path(name)
    if not (path.exists() and path.stat().st_size == len(data)):
        path.write_bytes(data)
    assert list(walk(path))


def _roster(text: str) -> None:
    Path("roster.csv").write_text(text, encoding="utf-8")
    try:
        read_roster(Path("roster.csv"))
    except ValueError:
        return


def _progress(data: bytes) -> None:
    Path(progress.FILE).write_bytes(data)
    progress.load(Path())


@pytest.mark.parametrize(("run", "size"), READERS.values(), ids=READERS)
def test_a_reader_takes_time_as_its_size(folder: Path, run: Callable[[int], Any], size: int) -> None:
    assert ratio(run, size) <= MOST
