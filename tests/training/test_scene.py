import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from syrupy.assertion import SnapshotAssertion

from boxlamp.desk.files import read_record
from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Amend, Birth, Contraction, Note, Rest, Strike
from boxlamp.model.levels import ALERTS, Level
from boxlamp.training.pages import KEYS
from boxlamp.training.player import Player, moment_at, player_of
from boxlamp.training.scene import Look, Show, furthest, scene, show_of
from boxlamp.training.screening import screen
from boxlamp.training.telling import AFTERWARDS
from boxlamp.view.layout import PLAIN
from boxlamp.view.text import width_of
from support.made import entry
from support.messy import MESSY
from support.nights import DEFAULT, DEMO

SIZES = [(40, 16), (80, 24), (120, 40)]
NIGHTS = ["stalled-labour", "fourteen-pups", "eight-weeks"]
LESSON = "Two hours after the last pup with more to come is the time to ring. " * 3


def shown_at(show: Show, player: Player, width: int, rows: int, look: Look = Look()) -> list[str]:  # noqa: B008 - frozen
    """The screen as lines of text."""
    lines = scene(show, player, look, width, rows)
    return ["".join(part for _, part in line).rstrip() for line in lines]


def words(lines: list[str]) -> str:
    """The screen as one paragraph."""
    return " ".join(" ".join(lines).split())


def demo(name: str, lesson: str = "") -> Show:
    """A demo night, ready for the screen."""
    record = read_record(str(DEMO / f"{name}.night"))
    further = (f"boxlamp summary demo/{name}.night -o night.pdf",)
    return show_of(screen(record.entries, DEFAULT), lesson=lesson, further=further)


def alert_of(show: Show, number: int) -> Player:
    """Stopped at the first, second ... alert of a night."""
    player = player_of(show.screening)
    for _ in range(number):
        player = player.next_alert()
    return player


@pytest.mark.parametrize("size", SIZES, ids=str)
@pytest.mark.parametrize("name", NIGHTS)
def test_the_screen_as_it_looks(
    name: str, size: tuple[int, int], snapshot: SnapshotAssertion
) -> None:
    """The first second, the third alert, and the end, letter for letter."""
    show = demo(name, LESSON)
    for player in (player_of(show.screening), alert_of(show, 3), alert_of(show, 1).to_end()):
        assert "\n".join(shown_at(show, player, *size)) == snapshot


@pytest.mark.parametrize("size", SIZES, ids=str)
def test_the_help_as_it_looks(size: tuple[int, int], snapshot: SnapshotAssertion) -> None:
    """Every key is named, and every line of it can be reached."""
    show = demo("stalled-labour")
    player, look = player_of(show.screening), Look(page="help")
    assert "\n".join(shown_at(show, player, *size, look)) == snapshot

    seen = " ".join(
        words(shown_at(show, player, *size, look._replace(scrolled=lines)))
        for lines in range(furthest(show, player, look, *size) + 1)
    )
    assert all(" ".join(key.split()) in seen for key, _ in KEYS)
    assert "as they came." in seen


def counted(seen: str, level: Level) -> int:
    """How many more alerts of a level are said to stand."""
    found = re.search(rf"and \d+ more: [^.]*?(\d+) {level.word.upper()}", seen)
    return int(found[1]) if found else 0


@pytest.mark.parametrize("size", SIZES, ids=str)
@pytest.mark.parametrize("name", NIGHTS)
def test_the_alert_that_comes_is_whole(name: str, size: tuple[int, int]) -> None:
    """When an alert comes every sentence is whole or counted, and the new one is there by name."""
    show = demo(name)
    player = player_of(show.screening)
    while not (player := player.next_alert()).ended:
        at = moment_at(show.screening, player)
        lines = shown_at(show, player, *size)
        seen, board = words(lines), show.screening.board(at)
        for level in ALERTS:
            alerts = [one for one in board.alerts if one.level is level]
            whole = [one for one in alerts if " ".join(one.message.split()) in seen]
            assert len(whole) + counted(seen, level) >= len(alerts), (at, seen)
        assert any(" ".join(one.message.split()) in seen for one in board.alerts)
        new = {(step.level, step.rule.title) for step in show.screening.steps if step.at == at}
        named = any(f"{level.mark} {level.word.upper()}: {title}" in seen for level, title in new)
        # Where there is no room for both, the alerts on the board go before the line under it.
        fresh = [one for one in board.alerts if board.now.startswith(one.raised)]
        stated = any(" ".join(one.message.split()) in seen for one in fresh)
        assert named or stated or size == (40, 16)
        assert "stopped" in seen


@settings(max_examples=80, deadline=None)
@given(MESSY, st.integers(30, 130), st.integers(5, 45), st.floats(0, 1), st.data())
def test_it_fits_any_window(
    entries: tuple[Entry, ...], width: int, rows: int, share: float, data: st.DataObject
) -> None:
    """Exactly as many lines as there are, none wider, on every page; plain when asked for."""
    show = show_of(screen(entries, DEFAULT), lesson=LESSON, glyphs=PLAIN)
    player = player_of(show.screening, data.draw(st.sampled_from((1, 60, 3600))))
    player = player._replace(place=share * player.reel.length, playing=data.draw(st.booleans()))
    look = data.draw(
        st.builds(
            Look, st.sampled_from(("board", "help")), st.booleans(), st.integers(0, 60)
        )
    )  # fmt: skip
    lines = shown_at(show, player, width, rows, look)

    assert len(lines) == rows
    assert all(width_of(line) <= width for line in lines)
    assert all(line.isascii() for line in lines[-2:])
    assert "q leave" in lines[-1]


def test_the_end_says_what_it_came_to() -> None:
    """Born and alive, the alerts, what still stands, the lesson, the next commands; all of it."""
    show = demo("stalled-labour", LESSON)
    player = player_of(show.screening).to_end()
    for size in SIZES:
        most = furthest(show, player, Look(), *size)
        seen = words(
            [
                line
                for scrolled in range(most + 1)
                for line in shown_at(show, player, *size, Look(scrolled=scrolled))
            ]
        )
        for part in ("Born 6, alive 6,", "Still stands: ! WATCH Birth weight low,", "From here"):
            assert part in seen
        assert "boxlamp summary" in seen
    whole = words(shown_at(show, player, 120, 40))
    assert LESSON.strip() in whole
    assert "What it teaches" in whole


def test_a_night_typed_afterwards_says_so_at_its_start() -> None:
    """On the first screen, above what was typed at once, and on no other."""
    late = tuple(entry(number, number, Rest(), typed=200) for number in range(1, 4))
    show = show_of(screen((*late, entry(4, 210, Rest())), DEFAULT))
    player = player_of(show.screening)._replace(playing=False)

    first = shown_at(show, player, 80, 24)
    assert AFTERWARDS in first
    assert any("(and 2 more)" in line for line in first)
    assert AFTERWARDS not in shown_at(show, player.next_event(), 80, 24)


def test_it_says_how_fast_and_when_it_cuts_short() -> None:
    """Playing, running through a quiet stretch, stopped, at real speed, at the end."""
    show = demo("stalled-labour")
    player = player_of(show.screening, 60)._replace(look=0.0)

    def pace(one: Player) -> str:
        return shown_at(show, one, 80, 24)[-2].split(" · ")[1]

    assert pace(player) == "60 times as fast"
    assert pace(player._replace(speed=1)) == "as fast as it was"
    assert pace(player._replace(place=3600)) == "quiet for 2 h 15 min, cut short"
    stopped = player._replace(place=3600, playing=False)
    assert pace(stopped) == "stopped (60 times as fast)"
    assert pace(stopped.faster()) == "stopped (120 times as fast)"
    assert pace(player.to_end()) == "the end"


def test_the_keys_of_the_moment() -> None:
    """What the space bar does is what stands beside it."""
    show = demo("stalled-labour")
    player = player_of(show.screening)

    def keys(one: Player, look: Look, width: int = 80) -> str:
        return shown_at(show, one, width, 24, look)[-1]

    assert keys(player, Look()).startswith("space stop  left right event  n b alert  + - speed")
    assert keys(player.toggle(), Look()).startswith("space go on")
    assert keys(player.toggle(), Look(stepping=True)).startswith("space next")
    assert keys(player, Look(stepping=True)).startswith("space stop")
    assert "p play on" in keys(player.toggle(), Look(stepping=True))
    assert keys(player.to_end(), Look()).startswith("space again")
    assert keys(player, Look(page="help")) == "? back  q leave"
    assert keys(player, Look(), 40) == "space stop  ? help  q leave"


def test_what_just_happened() -> None:
    """An alert first, then what was typed; a late line and a correction say what they are about."""
    entries = (
        entry(1, 0, Rest()),
        entry(2, 10, Contraction(), typed=40),
        entry(3, 41, Strike(target=1)),
        entry(4, 20, Amend(target=2, retimed=True), typed=42),
        entry(5, 43, Note(unread=True)).model_copy(update={"text": "gobbledegook"}),
        entry(6, 44, Birth(pup=1)),
    )
    show = show_of(screen(entries, DEFAULT))
    player = player_of(show.screening).next_event()

    def said(one: Player) -> list[str]:
        return [line.split(" ", 1)[1].strip() for line in shown_at(show, one, 80, 24)[-7:-5]]

    while player.place != 2400:
        player = player.next_event()
    assert said(player) == [
        "!!! GO: Strong contractions, no pup", "typed: contraction  [at 02:10]",
    ]  # fmt: skip
    assert said(player.next_event())[1] == "typed: strike 1  [rest]"
    assert said(player.next_event().next_event())[1].startswith("typed: amend 2")
    assert "[at 02:20, contraction]" in said(player.next_event().next_event())[1]
