from datetime import datetime
from typing import NamedTuple
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st
from syrupy.assertion import SnapshotAssertion

from boxlamp.model.levels import ALERTS, Level
from boxlamp.rules.registry import BY_ID
from boxlamp.view.board import AlertLine, Board, EntryLine
from boxlamp.view.clock_lines import ClockLine
from boxlamp.view.layout import FINE, PLAIN, Glyphs, Line, fitted, full
from boxlamp.view.palette import NIGHT
from boxlamp.view.plain import plain_board
from boxlamp.view.pup_lines import PupLine
from boxlamp.view.rule_page import rule_lines
from boxlamp.view.show_rich import STYLES
from boxlamp.view.temperatures import Reading, Temperatures
from boxlamp.view.text import clean, width_of
from support.boxes import demo_board
from support.calls import Caller
from support.nights import DEFAULT, DEMO


class Seen(NamedTuple):
    """A moment of a demo night."""

    night: str
    at: datetime


LONDON, PRAGUE = ZoneInfo("Europe/London"), ZoneInfo("Europe/Prague")
SEEN = {
    "the pup is stuck": Seen("pup-stuck", datetime(2026, 5, 17, 21, 44, tzinfo=LONDON)),
    "labour has stalled": Seen("stalled-labour", datetime(2026, 4, 12, 2, 30, tzinfo=PRAGUE)),
    "all is well": Seen("normal-first-litter", datetime(2026, 3, 2, 2, 25, tzinfo=PRAGUE)),
}
SIZES = [(40, 16), (40, 40), (80, 24), (80, 12), (120, 40)]
EACH = pytest.mark.parametrize("name", SEEN)


def text_of(lines: list[Line]) -> list[str]:
    """What the lines say when every style is taken away."""
    return ["".join(part for _, part in line).rstrip() for line in lines]


def told(lines: list[Line]) -> str:
    """The same as one paragraph."""
    return " ".join(" ".join(text_of(lines)).split())


@EACH
@pytest.mark.parametrize("width", [40, 80, 120])
def test_the_board_as_it_looks(name: str, width: int, snapshot: SnapshotAssertion) -> None:
    """The whole board at three widths, letter for letter."""
    board = demo_board(*SEEN[name])

    assert "\n".join(text_of(full(board, width))) == snapshot


@EACH
def test_the_board_one_fact_per_line(name: str, snapshot: SnapshotAssertion) -> None:
    """The plain form, letter for letter."""
    assert "\n".join(plain_board(demo_board(*SEEN[name]))) == snapshot


def test_the_page_of_a_rule(snapshot: SnapshotAssertion) -> None:
    """The rule everyone asks about, letter for letter."""
    assert "\n".join(rule_lines(BY_ID["contraction-no-pup"], DEFAULT)) == snapshot


@EACH
@pytest.mark.parametrize("size", SIZES)
def test_a_real_board_fits_its_screen(name: str, size: tuple[int, int]) -> None:
    """Within width and height; every alert is there, the worst with its whole sentence."""
    board = demo_board(*SEEN[name])
    holds(board, *size, FINE)


LONG = st.text(max_size=40).map(clean) | st.sampled_from(
    ["Bramble", "\u72ac" * 12, "Champion Whitethorn Bramble of the Seven Hills", "x" * 60, ""]
)
SENTENCE = st.sampled_from(
    ["She has had strong contractions for 31 min without a pup.",
     "pup 4 (white): It is not breathing.", "An afterbirth is owed.",
     ("The rule x could not be worked out and watches nothing. Watch the clock yourself, and in "
      "doubt ring the vet. (E: y)")]
)  # fmt: skip
TIMES = st.sampled_from(["02:14", "yesterday 23:50", "Sun 1 Mar 23:50", "Sun 1 Mar 2025 23:50"])
STEPS = st.lists(SENTENCE, max_size=4).map(tuple)
BUILT = st.builds(
    Board,
    dam=LONG,
    now=st.sampled_from(["02:14:05"]),
    phase=st.sampled_from(["waiting: no sign of labour written down", "in labour, 3 h 05 min",
                           "caesarean, 12 min"]),
    tally=st.just(("born 4 of 6 (x-ray)", "alive 3", "dead 1", "afterbirths 3, 1 owed")),
    since=st.sampled_from([(), ("last pup 2 h 05 min ago", "last push 3 min ago")]),
    alerts=st.lists(
        st.builds(
            AlertLine, level=st.sampled_from(ALERTS), rule=st.just("x"), subject=LONG,
            message=SENTENCE, do=STEPS, raised=TIMES, quiet=st.booleans(),
            heard=st.just("") | TIMES,
        ),
        max_size=12,
    ).map(lambda alerts: tuple(sorted(alerts, key=lambda alert: -alert.level))),
    prompts=STEPS,
    clocks=st.lists(
        st.builds(
            ClockLine, title=LONG, pups=st.lists(st.integers(1, 99), max_size=9).map(tuple),
            elapsed=st.sampled_from(["2h05", "3 min", "12d04h"]),
            level=st.none() | st.sampled_from(ALERTS), filled=st.floats(0, 1),
            ticks=st.lists(st.tuples(st.floats(0, 1), st.sampled_from(ALERTS)),
                           max_size=3).map(tuple),
            coming=TIMES.map(lambda time: f"call in 1h54 ({time})"),
        ),
        max_size=8,
    ).map(tuple),
    pups=st.lists(
        st.builds(
            PupLine, number=st.integers(1, 99), mark=LONG, sex=st.sampled_from(["", "dog"]),
            born=TIMES, weight=st.sampled_from(["", "312 g", "1102.5 g"]),
            state=LONG | st.just("dead"), missing=st.sampled_from(
                [(), ("mouth and nose", "breathing", "dried", "cord", "mark", "palate", "milk")]),
            afterbirth=st.sampled_from(["seen", "owed", "not seen", "eaten"]),
            since_birth=st.sampled_from(["", "+0.0 %", "-12.5 %", "+1250.0 %"]),
            last_day=st.sampled_from(["", "-3.1 %", "+13.8 %"]), weighed=st.just("") | TIMES,
        ),
        max_size=14,
    ).map(tuple),
    temperatures=st.none() | st.builds(
        Temperatures,
        readings=st.lists(
            st.builds(
                Reading, day=st.sampled_from(["1 Mar", "28 Feb"]), time=st.just("07:30"),
                celsius=st.decimals(30, 42, places=1), low=st.booleans(),
            ),
            min_size=2, max_size=40,
        ).map(tuple),
        sentence=SENTENCE,
    ),
    grown=st.booleans(),
    owed=st.sampled_from(["", "afterbirths owed: pups 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12"]),
    entries=st.lists(
        st.builds(
            EntryLine, number=st.integers(1, 20_000), time=TIMES, text=LONG,
            remark=st.sampled_from(["", "about, struck", "about, amended, not understood"]),
            whole=st.booleans(),
        ),
        max_size=14,
    ).map(tuple),
    notes=STEPS,
    vet=LONG,
)  # fmt: skip


def holds(board: Board, width: int, height: int, glyphs: Glyphs) -> None:
    """A fitted board keeps to its screen and keeps what matters."""
    lines = fitted(board, width, height, glyphs)

    assert len(lines) <= height
    for text in text_of(lines):
        assert width_of(text) <= width, text
    if board.alerts and height >= 16:
        # Among equals the one that nobody has heard yet.
        worst = min(board.alerts, key=lambda alert: (-alert.level, bool(alert.heard)))
        assert " ".join(worst.message.split()) in told(lines)
        shown = " ".join(text_of(lines))
        assert worst.level.word.upper() in shown


@given(BUILT, st.integers(40, 130), st.integers(3, 60), st.sampled_from([FINE, PLAIN]))
def test_any_board_fits_any_screen(board: Board, width: int, height: int, glyphs: Glyphs) -> None:
    """Never wider, never higher; the worst alert's sentence is whole from 16 lines on."""
    holds(board, width, height, glyphs)


@given(BUILT, st.integers(40, 130), st.integers(16, 60))
def test_every_alert_keeps_its_word_on_the_screen(board: Board, width: int, height: int) -> None:
    """However many stand: each has its level, or a last line says how many more of which."""
    shown = text_of(fitted(board, width, height))
    words = {alert.level.word.upper() for alert in board.alerts}

    assert all(any(word in line for line in shown) for word in words)


@given(BUILT, st.integers(40, 130))
def test_the_whole_board_leaves_nothing_out(board: Board, width: int) -> None:
    """Every sentence, action, time and number is there, however narrow."""
    lines = full(board, width)
    words = told(lines)

    for text in text_of(lines):
        assert width_of(text) <= width, text
    for alert in board.alerts:
        for sentence in (alert.message, *alert.do):
            assert " ".join(sentence.split()) in words
    assert board.now in words
    assert board.phase in words
    for clock in board.clocks:
        assert clock.coming in words
        assert clock.elapsed in words
    for entry in board.entries:
        # Beside a date that takes half a narrow screen nothing but the date has room.
        if entry.whole and width >= 60:
            assert squeezed(entry.text) in squeezed(words)


def squeezed(text: str) -> str:
    """The text without blanks: a word that is wider than a line is broken."""
    return "".join(text.split())


ORDERS = "vet called; come at once, and bring the pups warm and in a box"
SAID = EntryLine(7, "02:39", ORDERS, "about", whole=True)


@pytest.mark.parametrize("height", [24, 30, 40])
@pytest.mark.parametrize("width", [40, 80])
def test_what_the_vet_said_is_never_cut(width: int, height: int) -> None:
    """It goes on below its beginning, in the board that is kept in view as well."""
    board = demo_board(*SEEN["all is well"])._replace(entries=(SAID,) * 2, pups=())

    assert squeezed(f"{SAID.text} [about]") in squeezed(told(full(board, width)))
    assert squeezed(SAID.text) in squeezed(told(fitted(board, width, height)))
    assert not any("~" in line for line in text_of(fitted(board, width, height)))


def test_a_small_screen_counts_what_it_leaves_out() -> None:
    """Whole clocks, pups and reminders by what they are, however many lines each takes."""
    clock = ClockLine("Afterbirth to come", tuple(range(1, 9)), "3 min", None, 0.1, (),
                      "watch in 1h54 (tomorrow 00:20)", "pup 1")  # fmt: skip
    board = demo_board(*SEEN["all is well"])._replace(
        prompts=(), clocks=(clock,) * 9, pups=(), entries=(), temperatures=None
    )
    shown = text_of(fitted(board, 80, 16))
    rows = sum("Afterbirth to come" in line for line in shown)

    assert 0 < rows < 9
    assert f"  not shown: {9 - rows} clocks" in shown
    assert sum("7, 8" in line for line in shown) == rows


def test_plain_glyphs_are_ascii() -> None:
    """On a terminal without Unicode nothing drawn is outside ASCII."""
    for seen in SEEN.values():
        assert all(line.isascii() for line in text_of(full(demo_board(*seen), 80, PLAIN)))


def test_levels_are_told_apart_without_style() -> None:
    """With all styling removed each level has its own mark and its own word."""
    leads = set()
    for level in ALERTS:
        line = AlertLine(level, "x", "dam", "Something.", (), "02:14", quiet=False, heard="")
        board = demo_board(*SEEN["all is well"])._replace(alerts=(line,))
        [shown] = [text for text in text_of(full(board, 80)) if "Something." in text]
        leads.add(tuple(shown.split()[:2]))

    assert leads == {("!", "WATCH"), ("!!", "CALL"), ("!!!", "GO")}


def test_no_meaning_rests_on_hue() -> None:
    """The levels differ by weight, line or reversal; red and green are not used at all."""
    shapes = set()
    for level in ALERTS:
        words = STYLES[level.word].split()
        assert not {"red", "green"} & set(words)
        shapes.add(frozenset(words) - {"yellow"})
        assert level is Level.WATCH or "bold" in words
    assert len(shapes) == len(ALERTS)
    for role, style in STYLES.items():
        assert not {"red", "green"} & set(style.split()), role
    night = {tuple(NIGHT.get_attrs_for_style_str(f"class:{level.word}"))[2:] for level in ALERTS}
    assert len(night) == len(ALERTS)


def test_every_role_has_a_style_in_both_palettes() -> None:
    """Nothing on the board is drawn with a style that one of the printers does not know."""
    styled = {name for rule in NIGHT.style_rules for name in rule[0].split()}
    for seen in SEEN.values():
        board = demo_board(*seen)._replace(prompts=("x",), notes=("y",))
        roles = {role for line in full(board, 80) for role, _ in line}
        assert roles <= STYLES.keys()
        assert roles <= styled


def test_a_night_told_again(
    tmp_path_factory: pytest.TempPathFactory,
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
    snapshot: SnapshotAssertion,
) -> None:
    """The replay of a demo night, letter for letter."""
    call = Caller(tmp_path_factory.mktemp("box") / "journal.db", capsys, monkeypatch)

    assert call.good("replay", DEMO / "stalled-labour.night") == snapshot
