"""Every sentence this room says to a person. Short, plain, and with the way out."""

from datetime import timedelta

# Times
ESTIMATE_OF_WHAT = "A ~ marks an estimated time, and a time must follow it."
NO_SUCH_DAY = "There is no day {}. A day is written year-month-day."
NO_SUCH_CLOCK = "There is no clock time {}."
FUTURE = "{} is still to come, in {}."
FUTURE_FIX = "Leave the time out if it has just happened; {} is what was read."
FUTURE_DAY = "{} is still to come."
FUTURE_DAY_FIX = "Check the date."
OLD = "{} is {} ago. Did you mean that?"
OLD_CLOCK = (
    "{} today has not come yet (it is {}), so it was read as the one {} ago. Did you mean that, "
    "or did it just happen?"
)
OLD_FIX = "Just happened: leave the time out. Otherwise type the whole date: {} ..."
SKIPPED_HOUR = "{} did not exist that night: the clocks went forward over it."
SKIPPED_HOUR_FIX = "By a clock that had not been put forward it was {}; type the new time."
REPEATED_HOUR = "{} came twice that night, because the clocks went back. Read as the second."
REPEATED_HOUR_FIX = "First: {} ... Second: {} ..."
NO_NOW_IN_A_FILE = "A file has no 'now' that {} could count from. Write the clock time."
CLOCK_NEEDED = "A day is not enough here: the clock time matters."
TWO_TIMES = "There are two times in this line."

# Words
NOTHING = "There is nothing to write down in this line."
TOO_LONG = "This line has {} characters; {} is the most that can be read at once."
CUT = "[cut: the line had {} characters]"
UNKNOWN_WORD = "'{}' is not a word this log knows."
LEFT_OVER = "'{}' does not fit here. Anything else you want to say goes after a ;"
OUT_OF_RANGE = "A value in this line is beyond anything possible."
TWO_OF = "There are two different {} in this line. Write one line for each."

# Pups
WHICH_PUP = "Which pup?"
NO_PUPS = "No pup has been written down yet."
NO_SUCH_PUP = "There is no pup {}. There are: {}."
SEVERAL_PUPS = "'{}' could be {}. Type more of the mark, or the number."
PUP_TAKEN = "Pup {} is already written down; the next birth is pup {}."
PUP_AHEAD = "The next birth would be pup {}, not pup {}. Is one missing?"
PUP_AHEAD_FIX = "Write the missing birth first, or leave the number out."
TOO_MANY_PUPS = "One litter holds at most 99 pups."
MARK_OF_DIGITS = "A mark made of digits only would be taken for a pup's number."
MARK_MISSING = "Which mark?"
MARK_TAKEN = "{} already has that mark."
MARK_TAKEN_FIX = "Choose another mark, such as 'red collar'."
IS_IT_A_MARK = "Is '{}' the mark of the pup?"
IS_IT_A_MARK_FIX = "If so: mark {}"
IS_IT_A_MARK_OR = "If so: mark {}. Or did you mean {}?"
NOT_A_BIRTH = "'{}' does not sound like a pup that is out."

# Quantities
TEMPERATURE_MISSING = "The temperature itself is missing."
TEMPERATURE_RANGE = (
    "{} is no body temperature: 20 to 45 is read as degrees C, 90 to 113 as degrees F."
)
IMPLAUSIBLE_WEIGHT = "A pup of {} would be very {}. Is that right?"
IMPLAUSIBLE_TEMPERATURE = "{} degrees C is hardly possible for the dam. Is that right?"
IMPLAUSIBLE_FIX = "Check the reading; the unit may be missing: g, oz or lb, C or F."
WEIGHT_MISSING = "The weight itself is missing."
PROGESTERONE_UNIT = "Progesterone needs its unit: ng (ng/mL) or nmol (nmol/L)."
COUNT_MISSING = "How many?"
SCORE_ITEMS = (
    "A score has five parts, each 0, 1 or 2, or ? for not taken: "
    "heart rate, breathing, reflex, movement, colour."
)
ONE_LINE_ONE_ENTRY = "One line is one entry. Write a line for each pup."
AFTERBIRTH_NUMBER = "Is {} the pup or how many? Write 'of {}' for the pup, 'x{}' for how many."

# Facts, contacts, corrections
SIGN_MISSING = "Which sign?"
FINDING = "After '{}' this can be said: {}."
SCAN_EMPTY = "A scan needs what was seen: pups counted, icc or bpd in mm."
SET_WHAT = "Set what? One of: {}."
SET_VALUE = "'{}' is no value for {}. {}"
LIMIT_PARTS = "A limit needs the rule, watch, call or go, how long, by whom, and why after a ;"
GIVEN_WHAT = "What was given?"
VET_WHAT = "What about the vet: called, advised, arrived, seen?"
NOTE_EMPTY = "The note is empty."
ACK_ONE = "Name one rule, or none to take notice of all."
ENTRY_NUMBER = "Which entry? Type its number."
NO_SUCH_ENTRY = "There is no entry {}."
AMEND_WHAT = "What should entry {} say? Give the right time, the right words, or both."
AMEND_FACT = "A correction cannot be made into another correction. Strike it instead."


def span(length: timedelta) -> str:
    """A stretch of time as a person says it: ``23 h 59 min``, ``40 s``."""
    seconds = int(length.total_seconds())
    days, hours, minutes = seconds // 86400, seconds // 3600 % 24, seconds // 60 % 60
    if days:
        return f"{days} d {hours} h"
    if hours:
        return f"{hours} h {minutes} min"
    return f"{minutes} min" if minutes else f"{seconds} s"
