"""Which tests enter which function, and whether they notice that it is broken."""

import gc
import json
import os
import resource
import signal
import sqlite3
from collections.abc import Callable, Iterable, Iterator
from contextlib import closing
from functools import cached_property, partial
from itertools import pairwise
from pathlib import Path
from time import process_time
from typing import Literal, NamedTuple

import pytest
from coverage import Coverage
from coverage.numbits import num_in_numbits
from hypothesis import Phase, settings

from support.long_tests import LONG
from support.mutants import TOP, Function, Mutant, import_broken, put_in_place

Fate = Literal["killed", "survived", "timed out", "no test"]

TESTS = tuple(f"tests/{room}" for room in ("rules", "engine", "language", "protocol", "model"))
_QUIET = ("-q", "--tb=short", "-p", "no:cacheprovider", "-p", "no:xdist",
          "-W", "ignore::pytest.PytestAssertRewriteWarning")  # fmt: skip
_ENOUGH = 8.0
"""Seconds of tests for one mutant, by their time in the unbroken program (our choice)."""
_LEAST, _FACTOR = 10.0, 4
"""A mutant may take so much more time than its tests should before it counts as hanging."""
_SURVIVED, _KILLED, _NOT_IN_PLACE = 0, 1, 77
_HANGED = (-signal.SIGXCPU, -signal.SIGKILL)
_MEMORY = 3 << 30


class Chosen(NamedTuple):
    """The tests for one function, whether it runs on import, and how long they take together."""

    tests: list[str]
    on_import: bool
    seconds: float


class Known:
    """What every test enters and how long it takes, learnt by running all of them once."""

    def __init__(self, folder: Path) -> None:
        self._lines, self._times = folder / "lines", folder / "times.json"
        self._rows: dict[Path, list[tuple[str, bytes]]] = {}

    @property
    def fresh(self) -> bool:
        """Whether nothing was changed since."""
        if not self._times.exists():
            return False
        files = (*TOP.glob("src/**/*.*"), *TOP.glob("tests/**/*.*"))
        last = max(path.stat().st_mtime for path in files if "__pycache__" not in path.parts)
        return self._times.stat().st_mtime > last

    def learn(self) -> int:
        """Run the tests unbroken; the exit code is theirs."""
        self._lines.unlink(missing_ok=True)
        coverage = Coverage(
            str(self._lines), config_file=False, source=[str(TOP / "src" / "boxlamp")]
        )
        times: dict[str, float] = {}

        class Learner:
            @pytest.hookimpl(wrapper=True)
            def pytest_runtest_protocol(self, item: pytest.Item) -> Iterator[None]:
                coverage.switch_context(item.nodeid)
                start = process_time()
                result = yield
                times[item.nodeid] = process_time() - start
                return result

        coverage.start()
        code = int(pytest.main(_arguments("-x"), plugins=[Learner()]))
        coverage.stop()
        coverage.save()
        if code == _SURVIVED:
            self._times.write_text(json.dumps(times), encoding="utf-8")
        return code

    @cached_property
    def seconds(self) -> dict[str, float]:
        """How long each test takes."""
        read: dict[str, float] = json.loads(self._times.read_text(encoding="utf-8"))
        return read

    def of(self, function: Function) -> Chosen:
        """The tests that may notice: those named after its file, of its own room, the quick ones.

        To a function that runs on import all the tests of its room belong.
        """
        own = f"tests/{function.room}/"
        found = {test for test, bits in self._of(function.path)
                 if num_in_numbits(function.first, bits)}  # fmt: skip
        on_import = "" in found
        found.discard("")
        if on_import:
            found.update(test for test in self.seconds if test.startswith(own))
        stem = function.path.stem

        def last(test: str) -> tuple[bool, bool, float, str]:
            named = stem in test or stem.replace("_", "-") in test
            return not named, not test.startswith(own), self.seconds[test], test

        order = sorted(found, key=last)
        chosen, left = [], _ENOUGH
        for test in order:
            if self.seconds[test] <= left:
                left -= self.seconds[test]
                chosen.append(test)
        return Chosen(chosen, on_import, _ENOUGH - left)

    def _of(self, path: Path) -> list[tuple[str, bytes]]:
        if path not in self._rows:
            with closing(sqlite3.connect(self._lines)) as lines:
                self._rows[path] = lines.execute(
                    "SELECT context.context, numbits FROM line_bits"
                    " JOIN context ON context.id = context_id JOIN file ON file.id = file_id"
                    " WHERE file.path = ?", (str(path),),
                ).fetchall()  # fmt: skip
        return self._rows[path]


def _arguments(*more: str) -> list[str]:
    left_out = (f"--deselect={test}" for test in LONG)
    return [*_QUIET, *more, *TESTS, *left_out]


def prepare() -> None:
    """Import what tests need and the program is not; let Hypothesis fail without shrinking."""
    import pydantic  # noqa: F401 - so that no child need import it again

    settings.register_profile(
        "mutants", phases=[Phase.explicit, Phase.generate], derandomize=True, database=None,
        deadline=None,
    )  # fmt: skip
    settings.load_profile("mutants")


class Children:
    """Processes at work, each on one mutant; what comes out of them goes into a file."""

    def __init__(self, at_once: int, told: Path) -> None:
        self._at_once, self._told = at_once, told
        self._running: dict[int, Mutant] = {}

    def start(self, mutant: Mutant, chosen: Chosen, work: Callable[[], int]) -> None:
        """Let a child work on a mutant; wait for another first if there are enough."""
        if len(self._running) >= self._at_once:
            self._wait()
        pid = os.fork()
        if pid:
            self._running[pid] = mutant
            return
        code = _KILLED
        try:
            limit = int(process_time() + _LEAST + _FACTOR * chosen.seconds)
            resource.setrlimit(resource.RLIMIT_CPU, (limit, limit + 1))
            resource.setrlimit(resource.RLIMIT_AS, (_MEMORY, _MEMORY))
            code = work()
        finally:
            os._exit(code)

    def finish(self) -> None:
        """Wait for all that still run."""
        while self._running:
            self._wait()

    def _wait(self) -> None:
        pid, status = os.wait()
        told = {"name": self._running.pop(pid).name, "code": os.waitstatus_to_exitcode(status)}
        with self._told.open("a", encoding="utf-8") as file:
            file.write(f"{json.dumps(told)}\n")


class Warm:
    """In a process that has collected all tests: breaks one function after another in place."""

    def __init__(self, work: Iterable[tuple[Mutant, Chosen]], children: Children) -> None:
        self._work, self._children = work, children
        self._broken = False

    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        """Instead of running the tests once, run some of them for every mutant."""
        items = {item.nodeid: item for item in session.items}
        gc.freeze()
        for mutant, chosen in self._work:
            own = [items[test] for test in chosen.tests]
            self._children.start(mutant, chosen, partial(self._tested, mutant, own))
        self._children.finish()
        return True

    def _tested(self, mutant: Mutant, items: list[pytest.Item]) -> int:
        if not put_in_place(mutant):
            return _NOT_IN_PLACE
        self._broken = True
        for item, following in pairwise([*items, None]):
            assert item is not None
            item.config.hook.pytest_runtest_protocol(item=item, nextitem=following)
        return _SURVIVED

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        """One test that fails is enough."""
        if self._broken and report.failed:
            os._exit(_KILLED)


def in_a_child(work: Callable[[], int], log: Path) -> int:
    """The exit code of a child that does this and writes what it has to say into a file."""
    pid = os.fork()
    if pid:
        return os.waitstatus_to_exitcode(os.waitpid(pid, 0)[1])
    code = _KILLED
    try:
        _write_to(log)
        code = work()
    finally:
        os._exit(code)


def _write_to(path: str | Path) -> None:
    os.dup2(os.open(path, os.O_WRONLY | os.O_CREAT | os.O_TRUNC), 1)


def broken_in_place(work: Iterable[tuple[Mutant, Chosen]], children: Children) -> int:
    """Break functions in a process that has collected every test."""
    return int(pytest.main(_arguments(), plugins=[Warm(work, children)]))


def broken_on_import(mutant: Mutant, chosen: Chosen) -> int:
    """Import the program with this mutation and run the tests; 0 when none of them notices."""
    _write_to(os.devnull)
    import_broken(mutant)
    return int(pytest.main([*_QUIET, "-x", *chosen.tests]))


def fates(told: Path) -> dict[str, Fate | None]:
    """What became of each mutant; None for one that must be broken on import."""
    found: dict[str, Fate | None] = {}
    for line in told.read_text(encoding="utf-8").splitlines() if told.exists() else ():
        one = json.loads(line)
        code = one["code"]
        fate: Fate | None = "killed"
        if code in {_SURVIVED, _NOT_IN_PLACE}:
            fate = "survived" if code == _SURVIVED else None
        elif code in _HANGED:
            fate = "timed out"
        found[one["name"]] = fate
    return found
