"""One-key entries, for gloves and one dry hand. The table is the whole truth about them."""

from typing import NamedTuple

from boxlamp.model.litter import Litter


class OneKey(NamedTuple):
    """A key that writes a whole line down at once. Undo takes it back."""

    key: str
    label: str
    line: str


ONE_KEYS: tuple[OneKey, ...] = (
    OneKey("f1", "push", "contraction strong"),
    OneKey("f2", "weak push", "contraction weak"),
    OneKey("f3", "rest", "rest"),
    OneKey("f4", "pup born", "pup"),
    OneKey("f5", "afterbirth", "afterbirth"),
    OneKey("f6", "milk", "milk {pup}"),
)

OTHER_KEYS: tuple[tuple[str, str], ...] = (
    ("f7", "heard"),
    ("f8", "undo"),
    ("f9", "help"),
    ("f10", "leave"),
    ("f12", "call sheet"),
)


def line_for(key: OneKey, litter: Litter) -> str | None:
    """The line a key stands for now; None when it needs a pup and none is waiting.

    First milk goes to the pup that has waited longest for it.
    """
    if "{pup}" not in key.line:
        return key.line
    waiting = [pup for pup in litter.in_order if pup.alive and "milk" not in pup.steps]
    return key.line.format(pup=waiting[0].number) if waiting else None


def label_for(key: OneKey, litter: Litter) -> str:
    """The key's label as shown, naming the pup it would write down for."""
    line = line_for(key, litter)
    if "{pup}" in key.line and line is not None:
        return f"{key.label} {line.split()[-1]}"
    return key.label
