"""Whether a notebook says again what it has stored: each word, and each figure as nearly as another processor gives it.

A figure may be off by one in its last printed place, or by 1 %. The zeros that end a whole number count as not
printed, down to two places: 590 agrees with 600, 500 does not.

What is counted, or called by a number, is compared as words are: a whole number with no sign and no unit that is
below 20, follows a name ("CL 90", "June 2028") or precedes a word ("45 walls"). So are digits that
touch a letter, a colon, a slash or a hyphen: dates, times of day, ratios, standards. The ends of a range share its
unit. A zero with a minus agrees with nothing, not even itself, since none is to be printed.
"""

import math
import re

SHARE, PLACES, SMALL = 0.01, 2, 20
FIGURE = re.compile(
    r"(?<![\w.,:/-])((?:(?<![^\s(*])[+−-])?(?:\d{1,3}(?:,\d{3})+|\d+)(?:\.\d+)?(?:e[+-]?\d+)?)(?![\w:/]|[.,]\d|-\w)"
)
UNIT = re.compile(
    r"[\s*)]*(?:[%°]|(?:[A-Z]{3}|K|[mck]?m[²³]?|m?g|kg|t|tonnes?|m?L|litres?|h|hours?|min|minutes?|s|seconds?|days?"
    r"|weeks?|months?|years?|k?Pa|[kM]?J|k?W|points?|times)(?!\w))"
)
JOINED = re.compile(r"[\s*]*(?:to|and|by|or|–)[\s*]*")
NAME = re.compile(r"\b[A-Z][\w&.]*[\s*]+$")
WORD = re.compile(r"[\s*]+[^\W\d_]")


class Said(str):
    """A text that equals another where no difference counts."""

    __slots__ = ()
    __hash__ = str.__hash__

    def __eq__(self, other):
        return not differences(self, other)

    def __ne__(self, other):
        return not self == other


def differences(stored: str, now: str) -> list[str]:
    """Return what differs so that it counts, each with the words before it."""
    parts, others = FIGURE.split(stored), FIGURE.split(now)
    found = [] if len(parts) == len(others) else [f"{len(parts) // 2} figures are now {len(others) // 2}"]
    for place, (part, other) in enumerate(zip(parts, others, strict=False)):
        is_figure = place % 2 and not (_is_count(parts, place) and _is_count(others, place))
        if not (_agree(part, other) if is_figure else part.split() == other.split()):
            found.append(f"{''.join(parts[:place])[-40:]}<{part.strip()}> is now <{other.strip()}>")
    return found


def _is_count(parts: list[str], place: int) -> bool:
    """Return whether the number at a place counts or names, and measures nothing."""
    number, before, after = parts[place], parts[place - 1], parts[place + 1]
    if not number.isdigit() or UNIT.match(after):
        return False
    if JOINED.fullmatch(after) and place + 2 < len(parts):
        return _is_count(parts, place + 2)
    return int(number) < SMALL or bool(NAME.search(before) or WORD.match(after))


def _agree(stored: str, now: str) -> bool:
    one, other = (float(text.replace(",", "").replace("−", "-")) for text in (stored, now))
    if any(not figure and math.copysign(1.0, figure) < 0 for figure in (one, other)):
        return False
    if "+" in stored[0] + now[0] and not {stored[0], now[0]} <= set("+-−"):
        return False
    allowed = max(min(_last_place(stored), _last_place(now)), SHARE * max(abs(one), abs(other)))
    return abs(one - other) <= allowed * (1.0 + 1e-9)


def _last_place(text: str) -> float:
    """Return what one in a figure's last printed place is worth."""
    digits, _, power = text.lstrip("+-−").replace(",", "").partition("e")
    whole, point, decimals = digits.partition(".")
    zeros = 0 if point else min(len(whole) - len(whole.rstrip("0")), max(len(whole) - PLACES, 0))
    return 10.0 ** (zeros - len(decimals) + int(power or 0))
