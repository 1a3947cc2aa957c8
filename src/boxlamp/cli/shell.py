"""The shell around every command: what typer is told, and what happens to every error.

This is the only module that knows how a typer application is put together. A call that is plain
in every word needs no typer: see ``straight``.
"""

import errno
import gc
import os
import signal
import sys
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager, suppress
from functools import partial
from importlib import import_module
from typing import TYPE_CHECKING, Any

from boxlamp.cli.argv import Call, parted
from boxlamp.cli.catalogue import BY_NAME, COMMANDS, Command
from boxlamp.cli.settings import unusable
from boxlamp.cli.straight import straight

if TYPE_CHECKING:
    import typer
    from typer.core import TyperGroup

_HELP = """Write down a whelping as it happens, and be told when to ring the vet.

Start with:

  boxlamp new --dam Bramble         open a litter record

  boxlamp attend                    sit at the box with the console

  boxlamp log 02:14 pup m 312g red  or write down one line at a time

`boxlamp manual` opens the manual page; `boxlamp words` lists what can be typed.

A memory aid, not a diagnosis. In doubt ring the vet; the vet's word comes first."""

# No space left, the device fails, nobody has the file open, the file may not grow.
_UNWRITABLE = (errno.ENOSPC, errno.EIO, errno.EBADF, errno.EFBIG, errno.EDQUOT)
_COMPLETE = "__complete"
_STOPPED, _INTERRUPTED = "\nStopped. Everything that was confirmed is kept.", 128 + signal.SIGINT
_SETTINGS = {"help_option_names": ["-h", "--help"], "max_content_width": 100}


def main(argv: Sequence[str] | None = None) -> None:
    """Run the command named in ``argv`` and leave with its exit code."""
    # A command lives for a fraction of a second, and collecting garbage while its libraries load
    # would take a twentieth of that. The two that stay (attend, board --follow) switch it on.
    gc.disable()
    # Nothing that happens to be installed beside may reach into how a line is read, and looking
    # for it would go through everything that is.
    os.environ["PYDANTIC_DISABLE_PLUGINS"] = "__all__"
    words = list(sys.argv[1:] if argv is None else argv)
    if words and words[0] in {"--version", "-V"}:
        _version()
        return
    if words[:1] == [_COMPLETE]:
        _complete(words[1:])
        return
    try:
        sys.exit(run(words))
    except KeyboardInterrupt:
        # Stopped while its libraries were still being loaded: nothing had been done yet.
        print(_STOPPED, file=sys.stderr)  # noqa: T201
        sys.exit(_INTERRUPTED)
    finally:
        # Nor does leaving go through all that was loaded, to find that none of it is garbage:
        # that took a tenth of the whole. What must be closed was closed by whoever opened it.
        gc.freeze()


def run(words: list[str]) -> int:
    """Run one call and return its exit code: 0 well, 1 bad news, 2 usage or failure."""
    ahead = words.index("--") if "--" in words else len(words)
    debug = "--debug" in words[:ahead]
    told = [word for word in words[:ahead] if word != "--debug"] + words[ahead:]
    try:
        return _called(parted(told))
    except Exception as error:
        if debug:
            raise
        return _failed(error)


def _called(call: Call) -> int:
    if sys.stdout is None:  # closed by whoever called
        raise OSError(errno.EBADF, os.strerror(errno.EBADF))
    for sentence in unusable():
        from boxlamp.cli.output import Output

        Output().say(f"boxlamp: {sentence}")
    work = straight(call)
    if work is not None:
        return _ended(work)
    return _parsed(call)


def _parsed(call: Call) -> int:
    """The long way, for everything that typer may have to explain."""
    import typer

    words = [call.command, *call.words] if call.command is not None else call.words
    command = typer.main.get_command(application(call.command))
    result = command.main(args=words, prog_name="boxlamp", standalone_mode=True)
    return result if isinstance(result, int) else 0


def application(name: str | None = None) -> "typer.Typer":
    """The typer application: with one command, so that only its libraries load, or with all."""
    import typer

    app = typer.Typer(
        rich_markup_mode=None,
        add_completion=False,  # our own is quicker: see completing.py
        help=_HELP,
        context_settings=_SETTINGS,
        cls=_grouped(),
        pretty_exceptions_enable=False,
        no_args_is_help=True,
    )
    for command in COMMANDS if name is None else (BY_NAME[name],):
        _add(app, command)
    app.callback()(_root)
    return app


def _grouped() -> "type[TyperGroup]":
    """The help with its commands under the moment they are for."""
    import typer
    from typer.core import TyperGroup

    class Grouped(TyperGroup):
        def invoke(self, ctx: Any) -> Any:  # noqa: ANN401 - typer's own
            # Before typer gives Ctrl-C and a closed pipe endings of its own.
            raise typer.Exit(_ended(partial(self._invoked, ctx)))

        def _invoked(self, ctx: Any) -> int:  # noqa: ANN401 - typer's own
            try:
                with _safe_to_show():
                    super().invoke(ctx)
            except typer.Exit as given:
                return given.exit_code
            return 0

        def make_context(self, *told: Any, **more: Any) -> Any:  # noqa: ANN401 - typer's own
            with _safe_to_show():
                return super().make_context(*told, **more)

        def format_commands(self, ctx: Any, formatter: Any) -> None:  # noqa: ANN401 - typer's own
            for group in dict.fromkeys(command.group for command in COMMANDS):
                rows = [
                    (command.name, found.get_short_help_str(60))
                    for command in COMMANDS
                    if command.group == group and (found := self.get_command(ctx, command.name))
                ]
                if rows:
                    with formatter.section(group):
                        formatter.write_dl(rows)

    return Grouped


@contextmanager
def _safe_to_show() -> Iterator[None]:
    """What typer says of a call repeats words of it: none of them may act on the screen."""
    try:
        yield
    except Exception as error:
        message = getattr(error, "message", None)
        if isinstance(message, str):
            from boxlamp.view.text import clean

            vars(error)["message"] = "\n".join(map(clean, message.split("\n")))
        raise


def _ended(act: Callable[[], int]) -> int:
    """Do it, and end quietly on Ctrl-C and on a closed pipe. The exit code."""
    code = 0
    try:
        try:
            code = act()
        finally:
            sys.stdout.flush()
    except KeyboardInterrupt:
        print(_STOPPED, file=sys.stderr)  # noqa: T201
        return _INTERRUPTED
    except BrokenPipeError:
        # The reader went away (`| head`): nothing is wrong. What is left unread goes nowhere, so
        # that Python does not complain at exit either. An answer already given keeps its code.
        with suppress(OSError, ValueError):
            os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    return code


def _root() -> None:
    """Hold the commands together, so that one of them alone still has a name."""


def _add(app: "typer.Typer", command: Command) -> None:
    from inspect import signature

    member = getattr(import_module(command.module), command.function)
    if command.nest:
        app.add_typer(member, name=command.name, rich_help_panel=command.group)
    else:
        # Nothing where something is needed: the whole help with its examples, not a line of usage.
        needs = any(p.default is p.empty for p in signature(member).parameters.values())
        app.command(
            command.name,
            rich_help_panel=command.group,
            context_settings=_SETTINGS,
            no_args_is_help=needs,
        )(member)


def _version() -> None:
    # Answered before anything heavy is loaded: only what stands before the first table is read.
    import tomllib
    from pathlib import Path

    from boxlamp import __version__

    shipped = Path(__file__).parents[1] / "protocol" / "default.toml"
    head, _, _ = shipped.read_text(encoding="utf-8").partition("\n[")
    print(f"boxlamp {__version__}\nlimits {tomllib.loads(head)['version']}")  # noqa: T201


def _complete(words: list[str]) -> None:
    """Answer a shell that asks what could stand at its cursor; a fault is no answer."""
    from boxlamp.cli.completing import answer

    with suppress(OSError, ValueError, KeyError):
        sys.stdout.write(answer(words))


def _failed(error: Exception) -> int:
    """Say what went wrong in one place. An error that knows its exit code has its own sentence."""
    known = getattr(error, "exit_code", None)
    if isinstance(error, OSError) and error.errno in _UNWRITABLE and error.filename is None:
        # The answer went to a full disk or a closed door. What it told of is safe in the journal.
        reason = error.strerror or "the output is closed"
        print(f"boxlamp: the answer could not be written: {reason}.", file=sys.stderr)  # noqa: T201
        return 2
    if isinstance(known, int):
        from boxlamp.cli.output import Output

        Output().say(f"boxlamp: {error}")
        return known
    from boxlamp.cli.crash import report

    print(report(error), file=sys.stderr)  # noqa: T201
    return 2
