"""What is remembered of an apprentice's work, also when the file was damaged or two lessons write at once."""

from __future__ import annotations

import json
import multiprocessing
from pathlib import Path

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from lessons.questions import progress


def test_nothing_is_known_at_first(tmp_path: Path) -> None:
    known = progress.load(tmp_path)
    assert (known.badge, known.units, known.of("x.y").tries) == ("alone", "si", 0)


def test_counts_tries_and_keeps_the_last_sign_on(tmp_path: Path) -> None:
    progress.keep_sign_on(tmp_path, "4711", "us")
    progress.record(tmp_path, "x.y", "5", "other", 0.0)
    progress.record(tmp_path, "x.y", "6", "linear", 0.0)
    progress.keep_sign_on(tmp_path, "4712", "si")
    progress.record(tmp_path, "x.y", "7", "right", 1.0)
    known = progress.load(tmp_path)
    assert (known.badge, known.units) == ("4712", "si")
    record = known.of("x.y")
    assert (record.tries, record.solved, record.tags) == (2, True, ("other", "linear", "right"))
    assert record.texts == ("5", "6", "7")


def test_new_numbers_start_over_but_remember(tmp_path: Path) -> None:
    progress.record(tmp_path, "x.y", "5", "other", 0.0)
    progress.new_numbers(tmp_path, "x.y")
    record = progress.load(tmp_path).of("x.y")
    assert (record.turn, record.tries, record.texts, record.old_texts, record.tags) == (1, 0, (), ("5",), ("other",))


def test_damaged_lines_cost_themselves_only(tmp_path: Path) -> None:
    progress.keep_sign_on(tmp_path, "4711", "si")
    path = tmp_path / progress.FILE
    path.write_bytes(path.read_bytes() + b'{"what": "answer", "id": "x.y", "te')  # cut short by a crash
    progress.record(tmp_path, "x.y", "6", "right", 1.0)
    path.write_bytes(path.read_bytes() + b"\xff\xfe\n[1, 2]\nnull\n" + b'{"what": "answer", "id": 5}\n')
    known = progress.load(tmp_path)
    assert (known.badge, known.of("x.y").solved, known.of("x.y").tries) == ("4711", True, 0)


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=50)
@given(st.binary(max_size=300))
def test_any_file_is_read(tmp_path: Path, content: bytes) -> None:
    (tmp_path / progress.FILE).write_bytes(content)
    assert progress.load(tmp_path).units in ("si", "us")


def _write_many(folder: str, name: str) -> None:
    for number in range(200):
        progress.record(Path(folder), f"{name}.q", str(number), "other", 0.0)


def test_two_lessons_writing_at_once_lose_nothing(tmp_path: Path) -> None:
    context = multiprocessing.get_context("spawn")
    writers = [context.Process(target=_write_many, args=(str(tmp_path), name)) for name in ("a", "b")]
    for writer in writers:
        writer.start()
    for writer in writers:
        writer.join()
    lines = (tmp_path / progress.FILE).read_text(encoding="utf-8").splitlines()
    assert len([json.loads(line) for line in lines]) == 400
    known = progress.load(tmp_path)
    assert (known.of("a.q").tries, known.of("b.q").tries) == (200, 200)
