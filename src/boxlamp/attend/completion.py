"""Completion at the console: the first word from the vocabulary, then pups and rules."""

from collections.abc import Callable, Iterable

from prompt_toolkit.completion import CompleteEvent, Completer, Completion
from prompt_toolkit.document import Document

from boxlamp.language import VOCABULARY
from boxlamp.model.litter import Litter
from boxlamp.rules.registry import BY_ID
from boxlamp.view.text import clean

_NAMES_A_PUP = frozenset(
    name for word in VOCABULARY if word.of_pup for name in (word.word, *word.synonyms)
)
_NAMES_A_RULE = frozenset({"ack", "limit"})


class WordsCompleter(Completer):
    """Offers what can stand at the cursor. It never changes anything that was typed."""

    def __init__(self, litter: Callable[[], Litter]) -> None:
        self._litter = litter

    def get_completions(
        self, document: Document, complete_event: CompleteEvent
    ) -> Iterable[Completion]:
        """Completions for the word before the cursor."""
        del complete_event
        before = document.text_before_cursor
        if ";" in before or not before.strip():
            return  # nothing is offered over an empty line: it would hide the answer above
        words = before.split(" ")
        typed, earlier = words[-1].lower(), [word.lower() for word in words[:-1] if word]
        for text, meaning in self._offers(earlier):
            if text.lower().startswith(typed) and text.lower() != typed:
                yield Completion(text, start_position=-len(typed), display_meta=meaning)

    def _offers(self, earlier: list[str]) -> Iterable[tuple[str, str]]:
        last = earlier[-1] if earlier else ""
        if last in _NAMES_A_PUP:
            for pup in self._litter().in_order:
                if pup.alive:
                    yield str(pup.number), clean(pup.mark or "")
        elif last in _NAMES_A_RULE:
            yield from ((rule.id, rule.title) for rule in BY_ID.values())
        elif not earlier or (len(earlier) == 1 and earlier[0][:1] in "-~0123456789"):
            yield from ((word.word, word.meaning) for word in VOCABULARY)
            yield from (("undo", "take the last line back"), ("help", "what can be typed"))
