"""The commands, in the order in which a litter needs them, and where each one lives."""

from typing import NamedTuple


class Command(NamedTuple):
    """One command: the module and function that do it, and its group in the help.

    A ``nest`` is a small family of commands under one name, kept as a typer application.
    ``line`` marks the command that takes a whole typed line, dashes and all.
    """

    name: str
    module: str
    function: str
    group: str
    line: bool = False
    nest: bool = False


_BEFORE, _BOX, _AFTER = "Before the night", "At the box", "Afterwards, and the record itself"
_WEEKS, _LEARN = "In the first weeks", "Learning and checking"
_ITSELF = "About the program"

COMMANDS: tuple[Command, ...] = (
    Command("new", "boxlamp.cli.new", "new", _BEFORE),
    Command("due", "boxlamp.cli.due", "due", _BEFORE),
    Command("kit", "boxlamp.cli.kit", "kit", _BEFORE),
    Command("blank-sheet", "boxlamp.cli.blank", "blank_sheet", _BEFORE),
    Command("attend", "boxlamp.cli.attend", "attend", _BOX),
    Command("log", "boxlamp.cli.log", "log", _BOX, line=True),
    Command("board", "boxlamp.cli.board", "board", _BOX),
    Command("check", "boxlamp.cli.check", "check", _BOX),
    Command("call-sheet", "boxlamp.cli.call_sheet", "call_sheet", _BOX),
    Command("words", "boxlamp.cli.words", "words", _BOX),
    Command("weights", "boxlamp.cli.weights", "weights", _WEEKS),
    Command("replay", "boxlamp.cli.replay", "replay", _LEARN),
    Command("drill", "boxlamp.cli.drill", "drill", _LEARN),
    Command("imagine", "boxlamp.cli.imagine", "imagine", _LEARN),
    Command("rules", "boxlamp.cli.rules", "rules", _LEARN),
    Command("protocol", "boxlamp.cli.protocol", "app", _LEARN, nest=True),
    Command("summary", "boxlamp.cli.summary", "summary", _AFTER),
    Command("litters", "boxlamp.cli.litters", "litters", _AFTER),
    Command("export", "boxlamp.cli.export", "export", _AFTER),
    Command("import", "boxlamp.cli.import_", "import_", _AFTER),
    Command("verify", "boxlamp.cli.verify", "verify", _AFTER),
    Command("backup", "boxlamp.cli.backup", "backup", _AFTER),
    Command("manual", "boxlamp.cli.manual", "manual", _ITSELF),
    Command("completion", "boxlamp.cli.completion", "completion", _ITSELF),
)

BY_NAME: dict[str, Command] = {command.name: command for command in COMMANDS}
