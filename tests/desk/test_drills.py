import errno
import json
import os
import threading
from datetime import timedelta
from pathlib import Path

import pytest

from boxlamp.desk.drills import (
    NotKeptError,
    found_in,
    keep_result,
    library,
    past_night,
    read_results,
    results_path,
    shelf_of,
)
from boxlamp.desk.files import read_record
from boxlamp.training.drill.record import Result, result_json
from support.made import at
from support.nights import DEMO


def result(minute: float = 0, trainee: str = "", score: int = 70) -> Result:
    return Result(
        trainee=trainee, at=at(minute), night="ash", dam="Ash", troubled=True, finished=True,
        score=score, passed=True, stops=10, calm=3, calm_held=3, acts=1, acts_right=1, lines=1,
        lines_right=0, right=("a",), wrong=("b",),
    )  # fmt: skip


def test_results_come_back_by_trainee_in_order_of_time(tmp_path: Path) -> None:
    """Each person's own; the order of the lines does not matter."""
    path = tmp_path / "new" / "journal.training"
    for one in (result(20), result(10), result(5, "Ann")):
        keep_result(path, one)

    assert read_results(path, "").results == (result(10), result(20))
    assert read_results(path, "Ann").results == (result(5, "Ann"),)
    assert read_results(path, "Bob") == ((), "")


def test_the_file_is_private(tmp_path: Path) -> None:
    """Only its owner may read it and its new folder, whatever the umask."""
    path = tmp_path / "new" / "journal.training"
    old = os.umask(0)
    try:
        keep_result(path, result())
    finally:
        os.umask(old)

    assert path.stat().st_mode & 0o777 == 0o600
    assert path.parent.stat().st_mode & 0o777 == 0o700


def test_every_line_is_one_object_with_a_version(tmp_path: Path) -> None:
    """JSON Lines that read without the program, and back as the same."""
    path = tmp_path / "a"
    keep_result(path, result())
    keep_result(path, result(1))
    lines = path.read_text(encoding="utf-8").splitlines()

    assert [json.loads(line) for line in lines] == [result_json(result()), result_json(result(1))]
    assert json.loads(lines[0])["schema"] == 1
    assert Result.model_validate_json(lines[0]) == result()


@pytest.mark.parametrize(
    "bad",
    [
        b'{"schema": 1, "trainee": "", "at"', b"\xff\xfe\x00", b"[]", b"nonsense\n", b"\x00" * 9,
        b'{"schema": 2, "all": "different"}\n', b"[" * 100_000,
    ],
)  # fmt: skip
def test_what_cannot_be_read_stops_nothing_and_stays(tmp_path: Path, bad: bytes) -> None:
    """A torn end, foreign bytes, a later version: told of, kept, and the next line is whole."""
    path = tmp_path / "a"
    keep_result(path, result())
    before = path.read_bytes() + bad
    path.write_bytes(before)
    keep_result(path, result(1))
    kept = read_results(path, "")

    assert kept.results == (result(), result(1))
    assert "1 line could not be read" in kept.trouble
    assert path.read_bytes().startswith(before)


def test_two_drills_at_once_lose_nothing(tmp_path: Path) -> None:
    """Every result of many writers is there, each whole."""
    path = tmp_path / "a"
    names = [f"trainee {number}" for number in range(8)]

    def write(who: str) -> None:
        for minute in range(10):
            keep_result(path, result(minute, who))

    writers = [threading.Thread(target=write, args=(name,)) for name in names]
    for writer in writers:
        writer.start()
    for writer in writers:
        writer.join()

    assert all(len(read_results(path, name).results) == 10 for name in names)
    assert read_results(path, names[0]).trouble == ""


def test_a_full_disk_is_said(tmp_path: Path) -> None:
    """And nothing else happens; a folder in the place of the file likewise."""
    with pytest.raises(NotKeptError, match=r"/dev/full: No space left"):
        keep_result(Path("/dev/full"), result())
    with pytest.raises(NotKeptError, match="directory"):
        keep_result(tmp_path, result())
    assert "cannot be read" in read_results(tmp_path, "").trouble


def test_a_pipe_in_the_place_of_the_file_is_said(tmp_path: Path) -> None:
    """Reading or writing it would wait for somebody else for ever."""
    os.mkfifo(tmp_path / "pipe")

    assert "pipe" in read_results(tmp_path / "pipe", "").trouble
    with pytest.raises(NotKeptError, match="pipe"):
        keep_result(tmp_path / "pipe", result())


def test_of_a_large_file_the_newest_are_read(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Whole lines from the end; the line that was cut is told as no trouble."""
    path = tmp_path / "a"
    for minute in range(10):
        keep_result(path, result(minute))
    size = path.stat().st_size // 10
    monkeypatch.setattr("boxlamp.desk.drills._MOST", 3 * size + size // 2)

    assert read_results(path, "") == ((result(7), result(8), result(9)), "")


def test_a_read_only_folder_is_said(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """For root, who may write anywhere, the system itself is made to refuse."""
    if os.geteuid() == 0:

        def refuse(path: Path, _mode: str) -> None:
            raise OSError(errno.EROFS, os.strerror(errno.EROFS), str(path))

        monkeypatch.setattr("boxlamp.desk.drills.open_private", refuse)
    else:
        tmp_path.chmod(0o500)
    with pytest.raises(NotKeptError, match=r"a: (Read-only|Permission)"):
        keep_result(tmp_path / "a", result())
    assert read_results(tmp_path / "a", "") == ((), "")


def test_where_results_lie(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Beside the journal and never in the way of its mirror; or where BOXLAMP_TRAINING says."""
    monkeypatch.delenv("BOXLAMP_TRAINING", raising=False)
    assert results_path(tmp_path / "box.db") == tmp_path / "box.training"
    monkeypatch.setenv("BOXLAMP_TRAINING", str(tmp_path / "x"))
    assert results_path(tmp_path / "box.db") == tmp_path / "x"


def test_the_library_is_every_shipped_night_by_dam() -> None:
    """Numbered from one, found by number, dam and file name."""
    nights = library()

    assert {one.path.name for one in nights} == {path.name for path in DEMO.glob("*.night")}
    assert [one.number for one in nights] == list(range(1, len(nights) + 1))
    for one in nights:
        for name in (str(one.number), one.path.stem, one.path.name):
            assert list(found_in(nights, name)) == [one]
        assert one in list(found_in(nights, one.record.name.upper()))
    assert list(found_in(nights, "Nobody")) == []


def test_what_a_shelf_says_is_what_the_night_holds() -> None:
    """Trouble is a call or a go; the rules are those the file expects and the engine raises."""
    for one in library():
        night = past_night(one.record)
        worst = max((rise.level for rise in night.rises), default=0)
        raised = {step.rule.id for step in night.screening.steps}

        assert one.shelf.troubled == (worst >= 2), one.path.stem
        assert one.shelf.rules <= raised
        assert timedelta(0) < one.shelf.length <= night.end - night.begins


def test_a_night_without_an_expected_alert_is_calm() -> None:
    """Such as a file of somebody's own."""
    record = read_record(str(DEMO / "normal-first-litter.night"))._replace(expected=())

    assert shelf_of("own", record).rules == frozenset()
    assert not shelf_of("own", record).troubled
