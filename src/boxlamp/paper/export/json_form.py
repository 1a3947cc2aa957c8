"""A litter's account as JSON, for other programs; ``schema.py`` beside this gives its shape."""

from boxlamp.paper.account.models import Account
from boxlamp.view.text import escaped


def json_form(account: Account, *, indent: int | None = 2) -> str:
    """The whole account as one JSON object, UTF-8, indented for the eye or on one line.

    Stored units: grams, degrees Celsius, whole seconds, UTC. What is not known is null. A sign
    that could move a cursor or turn a line round is written as an escape: whoever reads the JSON
    gets it back as it was typed, and a screen that shows the file is left alone.
    """
    text = account.model_dump_json(by_alias=True, indent=indent)
    # Line ends stand between the values; in them there are none.
    return "\n".join(map(escaped, text.split("\n"))) + "\n"
