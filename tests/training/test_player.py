from itertools import pairwise

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, rule

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Birth, Contraction, Rest
from boxlamp.training.player import QUIET, SPEEDS, Player, Reel, moment_at, player_of
from boxlamp.training.screening import screen
from support.made import STREAMS, at, told
from support.nights import DEFAULT


@st.composite
def reels(draw: st.DrawFn) -> Reel:
    """Nights with something at any second, alerts at some of the stops, and some time after."""
    gaps = draw(st.lists(st.sampled_from((1, 20, 60, 599, 600, 601, 5000, 900_000)), max_size=12))
    stops, place = [0], 0
    for gap in gaps:
        place += gap
        stops.append(place)
    alerts = draw(st.lists(st.sampled_from(stops), unique=True, max_size=4))
    return Reel(
        float(place + draw(st.sampled_from((0, 1, 3600)))),
        tuple(map(float, stops)),
        tuple(map(float, sorted(alerts))),
    )


SECONDS = st.sampled_from((0.05, 0.1, 0.7, 4.0, 1000.0))


def played(player: Player, seconds: float) -> list[Player]:
    """The player at every tick until the end."""
    seen = [player]
    for _ in range(400_000):
        if seen[-1].ended:
            return seen
        seen.append(seen[-1].tick(seconds))
        if seen[-1].look > 0 and seconds < 1:
            seen[-1] = seen[-1]._replace(look=0.0)  # the looking is another test's business
    raise AssertionError("it never ends")


@settings(max_examples=60, deadline=None)
@given(reels(), st.sampled_from((60, 300, 3600)), st.sampled_from((0.1, 0.7, 4.0, 1000.0)))
def test_played_to_the_end_every_stop_is_seen_once_and_in_order(
    reel: Reel, speed: int, seconds: float
) -> None:
    """At any speed, with ticks of any length."""
    places = [one.place for one in played(Player(reel, speed=speed), seconds)]

    assert places == sorted(places)
    seen = [place for place, before in zip(places, [-1.0, *places], strict=False)
            if place in reel.stops and place != before]  # fmt: skip
    assert seen == list(reel.stops)
    assert places[-1] == reel.length


@settings(max_examples=60, deadline=None)
@given(reels(), st.sampled_from((1, 60, 3600)))
def test_no_quiet_stretch_is_long_to_watch(reel: Reel, speed: int) -> None:
    """However many days it was; what was short in the night is watched as it was."""
    for start, end in pairwise((*reel.stops, reel.length)):
        player = Player(reel, speed=speed, place=start, look=0.0)
        ticks = 0
        while not player.ended and player.place < end and ticks < 70:
            player, ticks = player.tick(0.1), ticks + 1
        if end - start >= QUIET:
            assert player.place == end
        else:
            real = start + 0.1 * speed * ticks
            assert player.place == pytest.approx(min(end, real))


@given(reels(), st.sampled_from((1, 60, 3600)), st.floats(0, 1))
def test_a_stretch_is_cut_between_two_stops_only(reel: Reel, speed: int, share: float) -> None:
    """The last seconds before a stop, and the first after one, go by as they were."""
    player = Player(reel, speed=speed, place=share * reel.length, look=0.0)
    quiet = player.quiet
    assume(quiet is not None)
    assert quiet is not None

    assert quiet.start < quiet.run_from <= quiet.run_to < quiet.end
    assert quiet.end == player.next_stop
    assert quiet.end - quiet.start >= QUIET
    for place in (quiet.start, quiet.run_to):
        one = player._replace(place=place)
        assert not one.runs
        assert one.tick(0.1).place == pytest.approx(place + 0.1 * speed)
    assert player._replace(place=quiet.run_from).runs


@given(reels(), st.data())
def test_next_then_back_returns(reel: Reel, data: st.DataObject) -> None:
    """From one event to the next and back, and from one alert to the next and back."""
    for stops, forth, back in (
        (reel.stops, Player.next_event, Player.last_event),
        (reel.alerts, Player.next_alert, Player.last_alert),
    ):
        if not stops:
            continue
        here = Player(reel, playing=False, place=data.draw(st.sampled_from(stops)))
        there = forth(here)
        if there.place > here.place:
            assert back(there).place == here.place
        before = back(here)
        if before.place in stops and before.place < here.place:
            assert forth(before).place == here.place


def test_an_alert_is_looked_at_for_longer() -> None:
    """However fast: at least two seconds, and half a second for anything else."""
    reel = Reel(100.0, (0.0, 10.0, 20.0), (20.0,))
    player = Player(reel, speed=3600, look=0.0).tick(0.1)
    assert player.place == 10.0
    assert player.tick(0.4).place == 10.0
    assert player.tick(0.6).tick(0.1).place == 20.0

    player = player.tick(0.6).tick(0.1)
    assert player.tick(2.0).tick(0.1).place == 20.0
    assert player.tick(3.0).tick(0.1).place == 100.0


def test_the_keys() -> None:
    """Pausing, the ends, the speeds; at the end the same key plays it again."""
    player = Player(Reel(100.0, (0.0, 50.0), (50.0,)))
    assert not player.toggle().playing
    assert player.toggle().toggle().playing
    assert player.toggle().tick(9) == player.toggle()
    assert player.next_event() == player.next_alert()
    assert not player.next_event().playing
    assert player.next_event().next_event().ended
    assert player.next_event().next_event().next_event().place == 100.0
    assert player.to_end().ended
    assert not player.to_end().playing
    assert player.to_end().tick(9) == player.to_end()
    assert player.to_end().to_begin().place == player.last_alert().place == 0.0
    again = player.to_end().toggle()
    assert (again.place, again.playing) == (0.0, True)
    assert [player.faster().speed, player.slower().speed] == [120, 20]
    odd = player._replace(speed=45)
    assert [odd.faster().speed, odd.slower().speed] == [60, 20]
    assert player._replace(speed=SPEEDS[-1]).faster().speed == SPEEDS[-1]
    assert player._replace(speed=SPEEDS[0]).slower().speed == SPEEDS[0]


@settings(max_examples=40, deadline=None)
@given(STREAMS)
def test_a_night_is_played_moment_by_moment(entries: tuple[Entry, ...]) -> None:
    """Stepping through it stops at every moment that is told, each once, and then at the end."""
    screening = screen(entries, DEFAULT)
    player = player_of(screening, step=True)
    assert not player.playing
    stops = [moment_at(screening, player)]
    while not player.ended:
        player = player.next_event()
        stops.append(moment_at(screening, player))

    told_at = list(dict.fromkeys(moment.at for moment in screening.moments))
    assert stops[: len(told_at)] == told_at
    assert stops[-1] == screening.ended


def test_from_alert_to_alert() -> None:
    """Only where an alert is raised or rises."""
    entries = told((0, Rest()), (1, Contraction()), (30, Birth(pup=1)))
    screening = screen(entries, DEFAULT, until=at(29))
    player = player_of(screening)
    stops = []
    while not (player := player.next_alert()).ended:
        stops.append((moment_at(screening, player) - at(0)).total_seconds() / 60)

    assert stops == [16, 21]


class Watching(RuleBasedStateMachine):
    """Any keys in any order, with time going by between them."""

    player: Player

    @initialize(reel=reels(), speed=st.sampled_from((1, 7, 60, 3600)), step=st.booleans())
    def begin(self, reel: Reel, speed: int, step: bool) -> None:  # noqa: FBT001 - drawn
        """Somebody begins to watch."""
        self.player = Player(reel, speed=speed, playing=not step)

    @rule(seconds=SECONDS)
    def time_goes_by(self, seconds: float) -> None:
        """Never back, never past the next stop, and only while it plays."""
        before, after = self.player, self.player.tick(seconds)
        assert before.place <= after.place <= before.next_stop
        if not before.playing or before.look > 0:
            assert after.place == before.place
        assert after.speed == before.speed
        self.player = after

    @rule(key=st.sampled_from((Player.toggle, Player.faster, Player.slower)))
    def a_key_that_does_not_seek(self, key: object) -> None:
        """The place stays, unless it begins anew."""
        before, after = self.player, key(self.player)  # type: ignore[operator]
        assert after.place == (0.0 if before.ended and key is Player.toggle else before.place)
        self.player = after

    @rule(
        key=st.sampled_from(
            (
                Player.next_event, Player.last_event, Player.next_alert, Player.last_alert,
                Player.to_begin, Player.to_end,
            )
        )
    )  # fmt: skip
    def a_key_that_seeks(self, key: object) -> None:
        """It stops at something, in the direction meant."""
        before, after = self.player, key(self.player)  # type: ignore[operator]
        assert not after.playing
        assert after.place in {0.0, *before.reel.stops, before.reel.length}
        forth = key in {Player.next_event, Player.next_alert, Player.to_end}
        assert after.place >= before.place if forth else after.place <= before.place
        self.player = after

    @invariant()
    def it_is_somewhere_in_the_night(self) -> None:
        """Between its beginning and its end; it does not play on at the end."""
        player = self.player
        assert 0 <= player.place <= player.reel.length
        assert not (player.ended and player.playing and player.reel.length > 0)
        assert player.speed >= 1


TestWatching = Watching.TestCase
TestWatching.settings = settings(max_examples=60, stateful_step_count=30, deadline=None)
