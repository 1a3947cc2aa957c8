"""No text that a person or a file can set acts on a terminal, a page, a calendar or a sheet.

Fields come from the models and commands from the catalogue: a new one is covered, or a test here
fails until it is.
"""

import csv
import io
import json
import re
import sys
from collections.abc import Callable, Iterable, Iterator
from contextlib import suppress
from datetime import timedelta
from enum import Enum, EnumType
from itertools import chain
from pathlib import Path
from typing import Any

import icalendar
import pypdf
import pytest
import typer
from markdown_it import MarkdownIt

from boxlamp.cli.catalogue import COMMANDS
from boxlamp.cli.shell import application, run
from boxlamp.journal import open_journal
from boxlamp.language import read_night
from boxlamp.model.entry import Entry
from support.calls import Caller, Said
from support.effort import NIGHTLY, effort
from support.fuzzing import RAW
from support.poison import POISON, STYLE, Poisoner, acting, end_of, free_fields, poisoned_night
from support.reading import page_of
from support.terminal import KEYS, Terminal, terminal

CASES = [(night, shift) for night in ("stalled-labour", "eight-weeks") for shift in range(8)]
CASES = CASES[:: effort(len(CASES), nightly=1)]
"""Which night is poisoned, and with which poison its first field begins."""

CALLS: dict[str, tuple[str, ...]] = {
    "board": ("", "--plain", "--json", "--as-known", "--at -1h"),
    "check": ("", "--plain", "--json", "--why", "--as-known"),
    "call-sheet": ("", "--plain", "--json", "--as-known", "--clock 12h"),
    "weights": ("", "--plain", "--json", "--feeding", "--no-chart", "--as-known"),
    "due": ("", "--plain", "--json", "--why", "--ics -", "--ics FILE"),
    "kit": ("", "--plain", "--json", "--why"),
    "litters": ("", "--plain", "--json", "--use ash"),
    "replay": ("", "--plain", "--json", "--as-corrected", "--until 23:00"),
    "summary": ("", "--json", "--as-known", "--form text", "--form md", "--form html",
                "--form pdf", "-o FILE"),
    "export": ("", "--form jsonl", "--form night", "--form json", "--form csv --table pups",
               "--form csv --table weights", "--form csv --table timeline",
               "--form csv --table alerts", "-o FILE"),
    "protocol show": ("", "--plain", "--json"),
    "verify": ("", "--plain", "--json"),
    "blank-sheet": ("-o FILE",),
    "backup": ("FOLDER",),
    "log": ("POISON", "--json POISON", "weigh POISON 300g", "--by POISON note x", "ack POISON",
            "amend 2 POISON", "strike 2 POISON", "mark 1 POISON", "limit POISON call 3h by me; x"),
    "drill": ("--litter ash --answers FILE", "--progress --trainee POISON", "--list", "--json",
              "--progress --plain --trainee POISON", "--list --plain",
              "--litter POISON"),
    "completion": ("POISON", "bash"),
    "import": ("POISON", "--dry-run POISON"),
    "rules": ("POISON", "POISON --plain", "POISON --json", "--json", "--plain"),
    "words": ("POISON", "--json", "--plain"),
    "imagine": ("--trouble POISON", "--seed POISON", "--size POISON"),
    "protocol check": ("POISON",),
    "protocol use": ("POISON", "LIMITS"),
    "protocol trial": ("POISON --plain", "POISON --json",
                       "--cluster POISON"),
    "new": ("--dam POISON --breed POISON --vet POISON --vet-phone POISON --night-phone POISON",
            *(f"--dam x --no-input --{name} POISON" for name in (
                "weight", "breed-birth-weight", "age", "first-litter", "earlier-dystocia",
                "earlier-caesarean", "flat-faced", "toy", "mated", "ovulation", "lh",
                "progesterone", "dioestrus", "expect", "travel", "zone"))),
}  # fmt: skip
"""Every command with every way of answering that it has."""

ALL_KEYS = KEYS | {"f11": "\x1b[23~", "f12": "\x1b[24~"}
ELSEWHERE = {
    "attend": "a console, followed in a terminal below",
    "manual": "a page that holds nothing that anybody set",
}
SILENT = re.compile(
    "--(journal|litter|by|no-color|no-input|yes|as-new|page|weight-unit|temperature-unit|clock"
    "|help|nights|seed|workers|log-pages|missing|speed|step|follow|imagine|rebuild|schema"
    "|figures|list|chart|default|output|out|at)$"
)
"""Options that bring no way of answering of their own, or answer nothing of a litter."""


@pytest.fixture(params=CASES, ids=str)
def poisoned(request: pytest.FixtureRequest, call: Caller) -> Caller:
    """A journal with nothing but poison in it, and the command line at the end of its night."""
    night, shift = request.param
    entries = poisoned_night(night, Poisoner(shift))
    with open_journal(call.journal) as journal:
        journal.import_entries("ash", POISON[shift], entries, opened=entries[0].recorded)
    call.now = end_of(entries) + timedelta(minutes=30)
    return call


def test_every_free_field_is_poisoned() -> None:
    """Every text of every model is met, in the nights and in an entry of every kind."""
    poisoner = Poisoner()
    poisoned_night("eight-weeks", poisoner)
    assert free_fields() <= poisoner.met


def test_every_command_and_way_of_answering_is_called() -> None:
    """A new command, or a new flag or form of one, is in the table above."""
    known = {name.split()[0] for name in (*CALLS, *ELSEWHERE)}
    assert {command.name for command in COMMANDS} == known
    for command in COMMANDS:
        made: Any = typer.main.get_command(application(command.name))
        for name, inner in _leaves(made.commands[command.name], command.name):
            if name in ELSEWHERE:
                continue
            called = " ".join(CALLS[name]) + " "
            for option in inner.params:
                for opt in option.opts:
                    if opt.startswith("--") and not SILENT.match(opt):
                        assert opt in called, f"{name} {opt} is not called with poison"
                        for choice in _choices(option):
                            assert f"{opt} {choice} " in called, f"{name} {opt} {choice}"


def _choices(option: Any) -> list[str]:  # noqa: ANN401 - typer's own
    """What a choice may be."""
    annotation = option.type_descriptor.annotation
    members: Iterable[Enum] = annotation if isinstance(annotation, EnumType) else ()
    return [str(one.value) for one in members]


def _leaves(command: Any, name: str) -> Iterator[tuple[str, Any]]:  # noqa: ANN401 - typer's own
    for inner, found in getattr(command, "commands", {}).items():
        yield from _leaves(found, f"{name} {inner}")
    if not hasattr(command, "commands"):
        yield name, command


class Screen(io.TextIOWrapper):
    """A stream that says it is a terminal, and keeps every byte it is sent."""

    def __init__(self) -> None:
        self.sent = io.BytesIO()
        super().__init__(self.sent, "utf-8", write_through=True)

    def isatty(self) -> bool:
        """It is one."""
        return True


def words_of(line: str, folder: Path, poison: str) -> list[str]:
    """The words of a call, with the things in it that are named in capitals."""
    named = {"POISON": poison, "FILE": str(folder / "out"), "FOLDER": str(folder),
             "LIMITS": str(folder / "limits.toml")}  # fmt: skip
    return [named.get(word, word) for word in line.split()]


def calls(folder: Path) -> Iterator[tuple[str, list[str]]]:
    """Every call, each with every poison it can be given."""
    folder.mkdir(exist_ok=True)
    (folder / "limits.toml").write_text(
        'by = "\\u001b[2J\\u009b2J"\nwhy = "\\u202e<script>"\n[[limit]]\n'
        'rule = "waters-no-pup"\nlevel = "call"\nvalue = 1.5\nunit = "h"\n', "utf-8",
    )  # fmt: skip
    turn = 0
    for name, lines in CALLS.items():
        for line in lines:
            # No word of a command line can hold a NUL.
            poisons = [one.replace("\0", "") for one in POISON] if "POISON" in line else [""]
            turn += 1
            for poison in poisons if NIGHTLY else [poisons[turn % len(poisons)]]:
                for old in folder.glob("out*"):
                    old.unlink()
                if "--answers" in line:
                    (folder / "out").write_text("\n".join(POISON) + "\n" + "q\n" * 9, "utf-8")
                yield f"{name} {line}", [*name.split(), *words_of(line, folder, poison)]


def test_nothing_raw_reaches_a_pipe_or_a_terminal(poisoned: Caller, tmp_path: Path) -> None:
    """Every answer and complaint is plain text, at a terminal with colours and nothing else.

    Each call is made both ways in the long run, in turn in the short one.
    """
    raw: list[str] = []
    for turn, (name, words) in enumerate(calls(tmp_path / "here")):
        is_bytes = "--form pdf" in name  # which goes to a file below
        if NIGHTLY or turn % 2 or is_bytes:
            raw += _at_a_terminal(name, words)
        if (NIGHTLY or not turn % 2 or "--json" in name) and not is_bytes:
            raw += _through_a_pipe(name, poisoned(*words))
    assert raw == []


def _through_a_pipe(name: str, said: Said) -> list[str]:
    """What is raw in an answer; that it is the form it claims to be is made sure of too."""
    for mark, check in CHECKS.items():
        if mark in f"{name} " and said.code == 0:
            check(said.out)
    # A calendar and a table end their lines as their standards say.
    lines_of_two = "--ics -" in name or "--form csv" in name
    text = said.out.replace("\r\n", "\n") if lines_of_two else said.out
    if name in {"export ", "export --form jsonl", "export --form night"}:
        # Files, letter for letter what was written down; the terminal gets them cleaned.
        assert name != "export --form night" or not RAW.search(text.replace("\n", ""))
        text = ""
    return _raw_lines(name, text) + _raw_lines(name, said.err)


def _at_a_terminal(name: str, words: list[str]) -> list[str]:
    out, err = Screen(), Screen()
    with pytest.MonkeyPatch.context() as here, suppress(SystemExit):
        here.setattr(sys, "stdout", out)
        here.setattr(sys, "stderr", err)
        here.setattr(sys, "stdin", io.StringIO())
        run(words)
    shown = [STYLE.sub("", stream.sent.getvalue().decode()) for stream in (out, err)]
    return [line for text in shown for line in _raw_lines(name, text)]


def _raw_lines(name: str, text: str) -> list[str]:
    """The lines of an answer that would act, or tell of a failure, and what was called."""
    return [
        f"{name}: {line!r}"
        for line in text.split("\n")
        if acting(line, allowed="\t") or "the program has failed" in line
    ]


def test_files_hold_nothing_that_acts(poisoned: Caller, tmp_path: Path) -> None:
    """Written to a file, each form is whole, harmless, and still that form."""
    forms: dict[str, Callable[[bytes], object]] = {
        "summary.html": lambda content: _check_html(content.decode()),
        "summary.md": lambda content: _check_markdown(content.decode()),
        "summary.pdf": _check_pdf,
        "summary.txt": lambda content: _check_text(content.decode()),
    }
    for name, check in forms.items():
        poisoned.good("summary", "-o", tmp_path / name)
        check((tmp_path / name).read_bytes())
    poisoned.good("due", "--ics", tmp_path / "due.ics")
    _check_calendar((tmp_path / "due.ics").read_bytes().decode())
    poisoned.good("export", "--form", "night", "-o", tmp_path / "again.night")
    again = read_night((tmp_path / "again.night").read_text("utf-8"))
    with open_journal(poisoned.journal) as journal:
        assert again.entries == journal.entries("ash")
    poisoned.good("blank-sheet", "-o", tmp_path / "blank.pdf")
    _check_pdf((tmp_path / "blank.pdf").read_bytes())


def _check_text(text: str) -> None:
    assert not acting(text)


def _check_json(text: str) -> None:
    assert not acting(text)
    for line in text.splitlines():
        json.loads(line)


def _check_lines(text: str) -> None:
    header, *lines = text.removesuffix("\n").split("\n")
    assert json.loads(header)["boxlamp"] == "litter"
    for line in lines:
        Entry.model_validate_json(line)


def _check_whole_json(text: str) -> None:
    assert json.loads(text)
    assert not acting(text)


def _check_csv(text: str) -> None:
    rows = list(csv.reader(io.StringIO(text)))
    assert len({len(row) for row in rows}) == 1
    for value in (value for row in rows for value in row):
        assert not acting(value)
        for part in value.split(";"):
            begun = part.lstrip()[:1] in {"=", "+", "-", "@"}
            assert not begun or re.fullmatch(r"-?[0-9.]+", part), value


def _check_html(text: str) -> None:
    page = page_of(text)
    assert not acting(text)
    assert not page.every("script", "iframe", "object", "embed", "base", "link", "form")
    for part in page.parts:
        assert not [name for name in part.attributes if name.lower().startswith("on")]
        assert not part.attributes.keys() & {"href", "src", "action", "srcset", "style"}, part
    assert not page.every("img")
    assert "<script>" in page.every("body")[0].text


def _check_markdown(text: str) -> None:
    html = MarkdownIt("commonmark", {"html": True}).enable("table").render(text)
    page = page_of(f"<body>{html}</body>")
    assert not acting(text)
    assert not page.every("script", "img", "a", "iframe")
    assert "<script>" in page.every("body")[0].text


ACTIONS = {"/JavaScript", "/JS", "/OpenAction", "/AA", "/URI", "/Launch", "/EmbeddedFile"}
"""What a PDF can do by itself."""


def _names(value: object) -> Iterator[str]:
    """Every name in an object of a PDF, without going on into others."""
    if isinstance(value, dict):
        yield from value
        yield from chain.from_iterable(map(_names, value.values()))
    elif isinstance(value, list):
        yield from chain.from_iterable(map(_names, value))
    elif isinstance(value, pypdf.generic.NameObject):
        yield str(value)


def _check_pdf(content: bytes) -> None:
    reader = pypdf.PdfReader(io.BytesIO(content))
    # By its objects: packed bytes may spell a name by chance.
    every = [
        pypdf.generic.IndirectObject(number, 0, reader).get_object()
        for number in range(1, int(str(reader.trailer["/Size"])))
    ]
    assert not ACTIONS & {name for one in every for name in _names(one)}
    for page in reader.pages:
        assert not acting(page.extract_text())


def _check_calendar(text: str) -> None:
    assert "\n" not in text.replace("\r\n", "")
    assert not acting(text, allowed="\r\n")
    calendar = icalendar.Calendar.from_ical(text)
    assert not any(component.get("X-EVIL") for component in calendar.walk())
    assert text.count("BEGIN:VEVENT") == len(list(calendar.walk("VEVENT")))


SENT = (b"\x1b]52;", b"\x1b]8;;", b"\x1b]0;t",
        b"\xc2\x9b", b"\x9b2J", b"\xe2\x80\xae", b"\xe2\x81\xa6",
        b"\xe2\x80\x8b", b"\xc2\x90", b"\x0b", b"\x7f")  # fmt: skip
"""What no console sends of its own: parts of the poisons, as bytes."""


def _harmless(opened: Terminal) -> None:
    found = [part for part in SENT if part in opened.sent]
    assert not found, opened.shown


@pytest.mark.parametrize(
    ("words", "seen", "keys"),
    [
        (("attend",), "F10 leave", ("f9", "f12", "f11")),
        (("board", "--follow"), "(x-ray)", ()),
        *([(("replay", "--step"), "event", ())] if NIGHTLY else []),
    ],
)
def test_nothing_raw_in_what_is_kept_in_view(
    poisoned: Caller, words: tuple[str, ...], seen: str, keys: tuple[str, ...]
) -> None:
    """The console, with its sheet and its help, the board that follows, the night step by step."""
    with terminal(poisoned.journal, *words, BOXLAMP_BY=POISON[1]) as opened:
        opened.wait(seen)
        for key in keys:
            opened.child.send(ALL_KEYS[key])
            opened.look(0.4)
            opened.child.send("\x1b")
            opened.look(0.4)
        if words == ("attend",):
            for poison in POISON[3:6]:
                opened.child.send(f"\x1b[200~note {poison}\n\x1b[201~")
                opened.look(0.4)
        _harmless(opened)
        assert b"Traceback" not in opened.sent


CHECKS: dict[str, Callable[[str], None]] = {
    "--ics -": _check_calendar,
    "--json": _check_json,
    "--form jsonl": _check_lines,
    "--form json ": _check_whole_json,
    "--form csv": _check_csv,
    "--form html": _check_html,
    "--form md": _check_markdown,
}
"""What an answer must be, by a mark in its call."""
