"""The words that a shell completes, as ``src/boxlamp/cli/words.json`` holds them."""

import json
from collections.abc import Iterator

from boxlamp.cli.completing import everywhere
from boxlamp.cli.tree import Argument, Option, pages
from boxlamp.imagine.heading import NONE
from boxlamp.imagine.troubles import ALL
from boxlamp.language import VOCABULARY
from boxlamp.outside import shipped_nights
from boxlamp.planning.kit import ITEMS
from boxlamp.rules.registry import RULES

# What a value is, where its name in the help does not say it.
_OPTIONS = {"--litter": "litter", "--use": "litter", "--trouble": "trouble"}
_ARGUMENTS = {
    "rules": "rule", "words": "word", "kit": "kit", "log": "line", "drill": "night",
    "replay": "night", "summary": "night", "import": "night",
}  # fmt: skip
_FAMILIES = {"protocol": "Show the limits in force, check and use a vet's own, try what they cost."}


def completion_table() -> Iterator[str]:
    """Commands, options and values, one line each, so that a change reads well."""
    table = {
        "commands": {
            page.words: {
                "says": page.says,
                "argument": _argument(page.words, page.arguments),
                "many": any(argument.many for argument in page.arguments),
                "options": {
                    name: [_value(option), option.help]
                    for option in (*page.options, _HELP)
                    for name in option.names
                },
            }
            for page in pages()
        },
        "families": _FAMILIES,
        "everywhere": everywhere(),
        "values": {
            "rule": {rule.id: rule.title for rule in RULES},
            "word": {word.word: word.meaning for word in VOCABULARY},
            "kit": {item.id: item.what for item in ITEMS},
            "night": {path.stem: "an invented night" for path in shipped_nights()},
            "trouble": {NONE: "as it should go"} | {one.name: one.says for one in ALL},
        },
    }
    yield from json.dumps(table, indent=1, ensure_ascii=False).splitlines()


_HELP = Option(("--help", "-h"), "", (), "Explain this command.", "", "")


def _argument(words: str, arguments: tuple[Argument, ...]) -> str:
    if not arguments:
        return ""
    return _ARGUMENTS.get(words) or _kind(arguments[0].value, arguments[0].choices)


def _value(option: Option) -> str:
    return next((_OPTIONS[name] for name in option.names if name in _OPTIONS), None) or (
        _kind(option.value, option.choices) if option.value else ""
    )


def _kind(value: str, choices: tuple[str, ...]) -> str:
    return "|".join(choices) or ("file" if value == "FILE" else "text")
