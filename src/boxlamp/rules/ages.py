"""Which limits hold at a pup's age."""

from datetime import timedelta

from boxlamp.rules.spell import Yardstick, span


def clock_at(yardstick: Yardstick, rule: str, clocks: tuple[str, ...], age: timedelta) -> str:
    """The last of these clocks whose age has come, or nothing before the first of them.

    The setting ``from CLOCK`` says at which age its limits begin to hold.
    """
    return next(
        (clock for clock in reversed(clocks) if age >= span(yardstick, rule, f"from {clock}")), ""
    )
