import pytest

import boxlamp
from boxlamp.cli.catalogue import COMMANDS
from boxlamp.cli.shell import application, main
from boxlamp.outside import default_protocol
from support.calls import Caller

NAMES = [command.name for command in COMMANDS]
NESTED = ["protocol show", "protocol check", "protocol use", "protocol trial"]


@pytest.mark.parametrize("flag", ["-h", "--help"])
@pytest.mark.parametrize("name", [*NAMES, *NESTED])
def test_every_command_explains_itself(call: Caller, name: str, flag: str) -> None:
    """Help goes to standard output with exit code 0, begins with its use and says a sentence."""
    said = call(*name.split(), flag)

    assert (said.code, said.err) == (0, "")
    assert said.out.startswith(f"Usage: boxlamp {name}")
    sentence, _, _ = said.out.partition("\n\n")[2].partition("\n\n")
    assert sentence.startswith("  ")
    assert sentence.endswith(".")


def test_help_never_touches_the_record(call: Caller) -> None:
    """Asking for help makes no journal."""
    call("log", "-h")

    assert not call.journal.parent.exists()


@pytest.mark.parametrize("words", [(), ("-h",), ("--help",)])
def test_the_first_screen_begins_with_examples(call: Caller, words: tuple[str, ...]) -> None:
    """Without a command the help shows three examples, then every command under its moment."""
    said = call(*words)

    text = said.out + said.err
    assert said.code == (0 if words else 2)
    assert text.index("boxlamp new --dam") < text.index("boxlamp attend") < text.index("Options")
    assert [line.split()[0] for line in text.splitlines() if line[2:].startswith(tuple(NAMES))] == [
        *NAMES
    ]
    for moment in ("Before the night:", "At the box:", "Learning and checking:"):
        assert moment in text


def test_version_has_two_lines(capsys: pytest.CaptureFixture[str]) -> None:
    """Name and version, then the version of the limits."""
    main(["--version"])

    assert capsys.readouterr().out.splitlines() == [
        f"boxlamp {boxlamp.__version__}",
        f"limits {default_protocol().version}",
    ]


@pytest.mark.parametrize(
    ("typed", "meant"), [("bord", "board"), ("chek", "check"), ("expotr", "export")]
)
def test_a_misspelt_command_is_suggested_and_not_run(call: Caller, typed: str, meant: str) -> None:
    """The nearest command is named on standard error; nothing is done; exit code 2."""
    said = call(typed)

    assert said.code == 2
    assert not said.out
    assert f"No such command '{typed}'. Did you mean '{meant}'" in said.err
    assert not call.journal.parent.exists()


@pytest.mark.parametrize("name", [name[:3] for name in NAMES if len(name) > 3])
def test_a_command_cannot_be_shortened(call: Caller, name: str) -> None:
    """An abbreviation is never taken for a command."""
    assert call(name).code == 2


@pytest.mark.parametrize("name", NAMES)
def test_an_unknown_option_is_refused(call: Caller, name: str) -> None:
    """An option that is not there ends the call with exit code 2 and its name."""
    words = () if name == "log" else ("--no-such-thing",)
    said = call("--no-such-thing", name, *words)

    assert said.code == 2
    assert "--no-such-thing" in said.err
    assert not said.out


def test_options_stand_before_or_after_the_command(bramble: Caller) -> None:
    """`--litter`, `--json` and `--by` mean the same on both sides, with a space or with `=`."""
    slug = "bramble-2026-03-02"
    for words in (
        ("--litter", slug, "check", "--json"),
        ("--json", "check", "--litter", slug),
        (f"--litter={slug}", "--json", "check"),
        ("check", f"--litter={slug}", "--json"),
    ):
        assert f'"litter": "{slug}"' in bramble.good(*words)
    for said in (
        ("--by", "Jana", "log", "--json", "push"),
        ("log", "--json", "push", "--by", "Jana"),
        ("log", "--by=Jana", "--json", "push"),
    ):
        assert '"by": "Jana"' in bramble.good(*said)


def test_another_journal_is_named_before_or_after(bramble: Caller) -> None:
    """`--journal` beats BOXLAMP_JOURNAL wherever it stands."""
    other = bramble.journal.with_name("other.db")
    bramble.good("--journal", other, "new", "--dam", "Ash")

    assert bramble.good("--journal", other, "litters", "--plain").startswith("ash-2026-03-02\t")
    assert bramble.good("litters", "--plain", f"--journal={other}").startswith("ash-2026-03-02\t")
    assert bramble.good("litters", "--plain").startswith("bramble-2026-03-02\t")


def test_every_short_option_has_a_long_form() -> None:
    """A single-letter option is always a second name of a spelt-out one."""
    import typer

    for command in typer.main.get_command(application()).commands.values():  # type: ignore[attr-defined]
        for option in command.params:
            short = [name for name in option.opts if name.startswith("-") and name[1] != "-"]
            assert not short or any(name.startswith("--") for name in option.opts), option.opts


@pytest.mark.parametrize(
    "words",
    [
        ("check", "a{}b"),
        ("check", "--x{}"),
        ("ch{}eck",),
        ("--x{}",),
        ("replay", "--speed", "{}9"),
        ("imagine", "--trouble", "a{}"),
    ],
)
@pytest.mark.parametrize("mark", ["\x1b]0;x\x07", "\u202e", "\x9b31m", "\u200f"])
def test_what_is_wrong_with_a_call_is_said_without_what_would_act(
    call: Caller, words: tuple[str, ...], mark: str
) -> None:
    """The words of the call come back in the sentence, and nothing in them turns the line round."""
    said = call(*(word.format(mark) for word in words))

    assert said.code == 2
    assert said.err
    assert not set(mark) & set("\x1b\x07\x9b\u202e\u200f") & set(said.out + said.err)
