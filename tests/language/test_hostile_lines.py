from datetime import UTC, datetime

from hypothesis import given, settings
from hypothesis import strategies as st

from boxlamp.language import (
    Context,
    Heard,
    NightError,
    NotUnderstood,
    kept_as_note,
    read_line,
    read_night,
)
from boxlamp.language.vocabulary import COMMANDS
from boxlamp.model.entry import Draft
from boxlamp.model.happenings import Birth
from support.happenings import HOSTILE, NOW

BOX = Context.of(
    [
        Draft(at=NOW, what=Birth(pup=n, mark=mark)).numbered(n, "night", NOW)
        for n, mark in ((1, "red"), (2, "light green"), (3, None))
    ],
    NOW,
    "Europe/Prague",
)
_PIECES = st.sampled_from(
    [*COMMANDS, "02:14", "-5m", "~", "yesterday", "2026-10-25 02:30", ";", '"', "1", "3", "#3",
     "red", "312g", "1lb", "3oz", "37.1", "98.6f", "of", "x2", "by", "/", "\x1b[2J", "\u202e",
     "time", "12", "amend 1", "not", "limp", "2026-03-01", "?", "0", "99999999999"]
)  # fmt: skip
_LIKE_LINES = st.lists(_PIECES | HOSTILE, max_size=7).map(" ".join)
_SURROGATES = st.text(st.characters(), max_size=20)
_LINES = _LIKE_LINES | HOSTILE | _SURROGATES


def understood(line: str, context: Context) -> Heard | str:
    """The reading of a line, or why there is none."""
    try:
        return read_line(line, context)
    except NotUnderstood as refused:
        return refused.why


def problems_of(text: str) -> tuple[str, ...] | None:
    """What is wrong with a night file, or None."""
    try:
        read_night(text, source="x.night")
    except NightError as error:
        return error.problems
    return None


@given(_LINES)
@settings(max_examples=600, deadline=None)
def test_no_line_crashes_the_reading(line: str) -> None:
    """Anything is either an entry or a refusal that says why; nothing dangerous is kept."""
    heard = understood(line, BOX)
    assert heard if isinstance(heard, str) else heard.echo
    draft = kept_as_note(line, BOX) if isinstance(heard, str) else heard.draft
    assert draft.at.tzinfo == UTC
    for kept in (draft.text, draft.note, draft.model_dump_json()):
        assert "\x1b" not in kept
        assert "\u202e" not in kept
        assert "\n" not in kept


@given(st.lists(_LINES | st.sampled_from(["dam: B", "date: 2026-03-01", "", "#= none go"]),
                max_size=8).map("\n".join))  # fmt: skip
@settings(max_examples=300, deadline=None)
def test_no_file_crashes_the_reading(text: str) -> None:
    """Any text is a night or a list of problems, each with its line."""
    problems = problems_of(text)
    assert problems is None or problems
    assert all(problem.startswith("x.night:") for problem in problems or ())


@given(
    st.lists(
        st.sampled_from(
            ["#@", "#@ all", 'by="x"', "id=3", "id=x", "what={}", 'what={"kind":"sac"}', "at=1",
             "at=2026-03-01T00:00:00", "recorded=2026-03-01T00:00:00Z", 'text="a\\u001bb"',
             "text=words", 'zone="Moon"', "certainty=odd", 'what={"kind":"birth","pup":0}', "="]
        ),
        max_size=6,
    ).map(" ".join)
)  # fmt: skip
@settings(max_examples=200, deadline=None)
def test_no_directive_crashes_the_reading(directive: str) -> None:
    """A directive is hostile text too."""
    problems = problems_of(f"date: 2026-03-01\n\n#@ {directive}\n02:14 sac\n")
    assert problems is None or problems
    assert all(problem.startswith("x.night:") for problem in problems or ())


def test_times_at_the_ends_of_the_calendar_are_refused() -> None:
    """Counting back from the first day of the calendar is a refusal, not a crash."""
    first = Context(datetime(1, 1, 1, tzinfo=UTC), "America/New_York")
    assert understood("-20h waters", first) == "A value in this line is beyond anything possible."


def test_a_directive_nested_without_end_is_refused_in_plain_words() -> None:
    """The sentence is for a person, not about the machine's recursion."""
    deep = "#@ what=" + '{"a":' * 100_000
    (problem, *_) = problems_of(f"date: 2026-03-01\n\n{deep}\n02:14 sac\n") or ("",)
    assert problem == "x.night:3: What this '#@' line says is nested too deeply."
