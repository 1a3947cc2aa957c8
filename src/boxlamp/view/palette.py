"""The night palette: dim and warm, so that it does not light up the room or the bitch's eyes.

What matters is bold or reversed and always has its mark and word; the hue says nothing alone.
"""

from prompt_toolkit.formatted_text import StyleAndTextTuples
from prompt_toolkit.styles import Style

from boxlamp.view.layout import Line

NIGHT = Style.from_dict(
    {
        "": "bg:#0b0906 #b89a6e",
        "text": "",
        "name": "bold #d8b882",
        "phase": "bold",
        "time": "bold #d8b882",
        "dim": "#7d6a4d",
        "entry": "",
        "do": "bold",
        "todo": "",
        "owed": "italic",
        "calm": "#8f7a58",
        "watch": "bold #c9a25c",
        "call": "bold underline #e0a040",
        "go": "bold reverse #e0a040",
        "input": "bold #e6d0a8",
        "question": "bold reverse",
        "key": "bold",
        "completion-menu": "bg:#1c1710 #b89a6e",
        "completion-menu.completion.current": "bg:#b89a6e #0b0906",
        "completion-menu.meta.completion": "bg:#1c1710 #7d6a4d",
        "completion-menu.meta.completion.current": "bg:#7d6a4d #0b0906",
    }
)


def fragments(lines: list[Line]) -> StyleAndTextTuples:
    """The layout's lines as prompt_toolkit fragments."""
    found: StyleAndTextTuples = []
    for place, line in enumerate(lines):
        if place:
            found.append(("", "\n"))
        found += [(f"class:{role}", text) for role, text in line]
    return found
