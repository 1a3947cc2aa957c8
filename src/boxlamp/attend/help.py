"""What can be typed, short enough to stand under the board."""


def help_lines() -> list[str]:
    """The commonest lines with examples; ``boxlamp words`` has them all."""
    return [
        "push / push weak / rest          waters clear   sac   part head   discharge green",
        "pup dog 312g red head first      afterbirth of 3 (or eaten)      milk 3      cord 3 tied",
        "temp 37.1   weigh 3 340g   state 3 limp   dam dull   vet called; what was said",
        "A time may stand first: 02:14 pup   -5m rest   ~01:30 waters   yesterday 23:50 settled",
        "undo takes the last line back. ack quietens the sound. `boxlamp words` lists every word.",
    ]
