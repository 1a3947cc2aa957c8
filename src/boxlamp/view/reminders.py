"""Reminders in plain sentences: one for several pups that are due for the same thing."""

from collections.abc import Iterator

from boxlamp.engine import Prompt, Verdict
from boxlamp.model.levels import pup_subject
from boxlamp.model.litter import Litter
from boxlamp.view.text import clean
from boxlamp.view.words import in_hands


def reminder_lines(verdict: Verdict) -> Iterator[str]:
    """Every reminder that stands, the oldest first; pups with the same one share a sentence."""
    groups: dict[tuple[str, ...], list[Prompt]] = {}
    for prompt in verdict.prompts:
        pup = prompt.subject.startswith("pup ")
        key = prompt.rule.id, prompt.spell.clock
        groups.setdefault(key if pup else (*key, prompt.subject), []).append(prompt)
    for group in groups.values():
        yield clean(in_hands(_told(group, verdict.litter), verdict.litter, verdict.at))


def _told(group: list[Prompt], litter: Litter) -> str:
    first = group[0]
    numbers = sorted({int(prompt.subject[4:]) for prompt in group if _of_pup(prompt)})
    message = " ".join((first.message, *first.do))
    if not numbers:
        return message
    named = pups_words(numbers, litter)
    if first.subject in message:
        return message.replace(first.subject, named, 1)
    return f"{named}: {message}"


def _of_pup(prompt: Prompt) -> bool:
    return prompt.subject.startswith("pup ")


def pups_words(numbers: list[int], litter: Litter) -> str:
    """``pup 3 (marked red)``; ``pups 1, 3 and 4``; ``all 6 pups`` when nobody is left out."""
    if len(numbers) == 1:
        pup = litter.pups.get(numbers[0])
        return clean(pup.name) if pup is not None else pup_subject(numbers[0])
    if set(numbers) >= {pup.number for pup in litter.pups.values() if pup.here}:
        return f"all {len(numbers)} pups"
    *most, last = map(str, numbers)
    return f"pups {', '.join(most)} and {last}"
