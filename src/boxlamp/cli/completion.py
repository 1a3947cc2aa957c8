"""``boxlamp completion SHELL``: the script that lets a shell complete what is half typed."""

from pathlib import Path
from typing import Annotated, Literal

import typer

from boxlamp.cli.output import Output

SCRIPTS = {"bash": "boxlamp.bash", "zsh": "_boxlamp", "fish": "boxlamp.fish"}


def completion(
    shell: Annotated[Literal["bash", "zsh", "fish"], typer.Argument(help="Which shell.")],
) -> None:
    """Print the script that lets a shell complete what is half typed.

    For example: boxlamp completion bash > ~/.local/share/bash-completion/completions/boxlamp

    It completes commands, options, the words of a line, rules, litters and files, and never
    writes anything. For zsh the file is called _boxlamp and lies in a folder of fpath; for fish
    it is ~/.config/fish/completions/boxlamp.fish.
    """
    script = Path(__file__).parent / "shells" / SCRIPTS[shell]
    Output().copy(script.read_text(encoding="utf-8"))
