"""The commands as data: what each one says and takes. Completion, manual and docs ask it.

It is read from the commands' own signatures, so that nothing is written down twice.
"""

import inspect
from collections.abc import Callable, Iterator
from enum import Enum
from importlib import import_module
from pathlib import Path
from types import UnionType
from typing import Any, Literal, NamedTuple, Union, get_args, get_origin, get_type_hints

from typer.models import ArgumentInfo, OptionInfo

from boxlamp.cli.catalogue import COMMANDS, Command


class Option(NamedTuple):
    """One option: its names (long first), what its value is called (nothing for a flag)."""

    names: tuple[str, ...]
    value: str
    choices: tuple[str, ...]
    help: str
    default: str
    """What is taken without it, where that says something."""
    variable: str
    """The environment variable that sets it, if any."""


class Argument(NamedTuple):
    """One word, or several, that stand behind the command."""

    value: str
    choices: tuple[str, ...]
    help: str
    required: bool
    many: bool


class Page(NamedTuple):
    """One command as a person sees it: ``words`` is what is typed after ``boxlamp``."""

    words: str
    group: str
    says: str
    """Its first sentence."""
    more: tuple[str, ...]
    """The paragraphs behind it."""
    arguments: tuple[Argument, ...]
    options: tuple[Option, ...]


def pages() -> Iterator[Page]:
    """Every command, in the order of the catalogue; a family one by one."""
    for command in COMMANDS:
        member = getattr(import_module(command.module), command.function)
        if command.nest:
            for part in member.registered_commands:
                yield _page(f"{command.name} {part.name}", command, part.callback)
        else:
            yield _page(command.name, command, member)


def _page(words: str, command: Command, function: Callable[..., Any]) -> Page:
    paragraphs = [
        " ".join(part.split()) for part in inspect.cleandoc(function.__doc__ or "").split("\n\n")
    ]
    told = list(_told(function))
    return Page(
        words,
        command.group,
        paragraphs[0],
        tuple(paragraphs[1:]),
        tuple(one for one in told if isinstance(one, Argument)),
        tuple(one for one in told if isinstance(one, Option)),
    )


def _told(function: Callable[..., Any]) -> Iterator[Option | Argument]:
    """Its parameters, each with what typer is told of it."""
    hints = get_type_hints(function, include_extras=True)
    for name, parameter in inspect.signature(function).parameters.items():
        kind, *told = get_args(hints[name])
        info = next(one for one in told if isinstance(one, (OptionInfo, ArgumentInfo)))
        bare = _bare(kind)
        many = get_origin(bare) is list
        choices = _choices(bare)
        value = info.metavar or _called(name, bare, choices, info)
        if isinstance(info, ArgumentInfo):
            required = parameter.default is inspect.Parameter.empty
            yield Argument(value.strip("[]"), choices, info.help or "", required, many)
        else:
            yield _option(info, bare, value, choices, parameter.default)


def _option(
    info: OptionInfo, kind: object, value: str, choices: tuple[str, ...], default: object
) -> Option:
    # Inside an annotation typer takes the first name for a default.
    told = (info.default, *(info.param_decls or ()))
    names = [name for one in told if isinstance(one, str) for name in one.split("/")]
    names.sort(key=lambda name: not name.startswith("--"))
    flag = kind is bool
    usual = default.value if isinstance(default, Enum) else default
    shown = "" if flag or usual in {None, "", "-"} else str(usual)
    return Option(
        tuple(names), "" if flag else value, choices, info.help or "", shown, str(info.envvar or "")
    )


def _bare(kind: object) -> object:
    """The type of a value that is given, without the ``None`` of one that is not."""
    if get_origin(kind) not in {Union, UnionType}:
        return kind
    return next(one for one in get_args(kind) if one is not type(None))


def _choices(kind: object) -> tuple[str, ...]:
    if get_origin(kind) is Literal:
        return get_args(kind)
    if isinstance(kind, type) and issubclass(kind, Enum):
        return tuple(str(one.value) for one in kind)
    return ()


def _called(
    name: str, kind: object, choices: tuple[str, ...], info: OptionInfo | ArgumentInfo
) -> str:
    """What a value is called where nobody named it."""
    if choices:
        return "|".join(choices)
    if isinstance(info, ArgumentInfo):
        return "FILE" if kind is Path else name.upper()
    if kind is Path:
        return "FILE"
    return "N" if kind in {int, float} else "TEXT"
