"""Exercises whose right answer the kit works out, and a check that says what went wrong.

An exercise holds its question, a function that computes the answer, and the
slips people make in it. Slips that can be made in any exercise, such as a
thousandfold or the wrong sign, are looked for in all of them. The answer is
typed nowhere, so it cannot drift from the kit and cannot be read in the
notebook.
"""

from __future__ import annotations

import html
import importlib
import math
import pkgutil
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from limekit.course.quotes import offer_help
from limekit.errors import InputError
from limekit.pictures.shown import Shown, colour
from limekit.units import ZERO_CELSIUS, Unit, quantity, to_si

offer_help()


@dataclass(frozen=True)
class Slip:
    """A mistake people make: what ends "Not right, because …", and what it makes of the right answer, in its unit."""

    reason: str
    gives: Callable


TIMES_1000 = Slip("it is 1000 times too large: look at the units you started from", lambda right: right * 1000)
OVER_1000 = Slip("it is 1000 times too small: look at the units you started from", lambda right: right / 1000)
WRONG_SIGN = Slip("the size is right and the sign is not", lambda right: -right)
UPSIDE_DOWN = Slip("the ratio stands upside down: you divided the other way round", lambda right: 1 / right)
PERCENT = Slip('it is a percentage given as a share: write 0.25 or "25 %" for a quarter', lambda right: right * 100)
THE_REST = Slip("that is what is left over, not the part asked for", lambda right: 1 - right)
KELVIN_AS_CELSIUS = Slip("it is in kelvin and called °C: take 273.15 away", lambda right: right + ZERO_CELSIUS)
CELSIUS_AS_KELVIN = Slip("it is in °C and called kelvin: add 273.15", lambda right: right - ZERO_CELSIUS)
ANYWHERE = (TIMES_1000, OVER_1000, WRONG_SIGN)
OF_LEVELS = (KELVIN_AS_CELSIUS, CELSIUS_AS_KELVIN)


@dataclass(frozen=True)
class Exercise:
    """A question with a number for an answer.

    Parameters
    ----------
    question : str
    answer : callable
        Takes nothing; returns the right answer: a Quantity, or a number in `unit`.
    unit : str
        The unit the answer is shown in; empty for a plain number or share, which then needs no unit.
    slips : tuple of Slip
        Its own, looked for in this order and before those that can be made anywhere.
    tolerance : float
        How far from the right answer still counts, as a share of it.
    shown : str
        How the answer's number is written out.
    hint : str
        Said with an answer that is none of the slips.
    """

    question: str
    answer: Callable
    unit: str = ""
    slips: tuple[Slip, ...] = ()
    tolerance: float = 0.02
    shown: str = ".3g"
    hint: str = ""

    def right(self) -> float:
        """Work the answer out, in the exercise's unit."""
        return float(quantity(self.answer(), self.unit).to(self.unit).magnitude)

    def is_near(self, value: float, target: float) -> bool:
        """Whether a value counts as the target."""
        return math.isclose(value, target, rel_tol=self.tolerance, abs_tol=1e-12)

    def read(self, given) -> float:
        """Read what a person answered, in the exercise's unit.

        Raises
        ------
        InputError
            If it is no quantity, has no unit where one is needed, or is of another kind.
        """
        example = f'"12 {self.unit}"' if self.unit else "0.25"
        wanted = f"a number and its unit, such as {self.unit}" if self.unit else 'a number, or a percentage as "25 %"'
        if isinstance(given, bool) or not (isinstance(given, (str, int, float)) or hasattr(given, "units")):
            raise InputError("your answer", f"{given!r}", wanted, example)
        taken = quantity(given, asked="your answer", example=example)
        if self.unit and not f"{taken.units:D}".replace("dimensionless", ""):
            raise InputError("your answer", f"{given!r}, a number with no unit", wanted, example)
        value = to_si(taken, Unit(self.unit, self._kind), "your answer", example)
        if getattr(value, "ndim", 0) or not math.isfinite(value):
            raise InputError("your answer", f'"{given}"', "one finite number", example)
        return float(value)

    @property
    def every_slip(self) -> tuple[Slip, ...]:
        """Its own slips, then those that can be made with any number and with any temperature."""
        return (*self.slips, *ANYWHERE, *(OF_LEVELS if self._kind == "level" else ()))

    @property
    def _kind(self) -> str:
        if self.unit.startswith("delta_"):
            return "difference"
        return "level" if self.unit.startswith("deg") else "amount"

    def write(self, value: float) -> str:
        """Write a value in the exercise's unit as a reader sees it."""
        unit = self.unit.replace("delta_", "").replace("degC", "°C")
        return f"{value:{self.shown}} {unit}".strip()


@dataclass(frozen=True)
class Verdict(Shown):
    """What became of an answer: the question, "not yet", "not right" or "right", and the words for it."""

    question: str
    state: str
    text: str

    def __repr__(self) -> str:
        return f"{self.question}\n{self.text}"

    def _html(self) -> str:
        side = {"right": "success-color0", "not right": "warn-color0", "not yet": "content-font-color1"}[self.state]
        style = f"border-left:5px solid {colour(side)};padding:6px 14px;font-size:16px;line-height:1.45"
        return (
            f'<div style="{style}"><div>{html.escape(self.question)}</div>'
            f'<div role="status"><strong>{html.escape(self.text)}</strong></div></div>'
        )


def check(exercise: Exercise, answer=None) -> Verdict:
    """Say whether an answer is right and, if it is not, what most likely went wrong.

    Parameters
    ----------
    exercise : Exercise
    answer : str, float or pint.Quantity, optional
        ``"809 degC"``; a bare number where the answer has no unit. None, ``...`` or empty text
        means not answered yet.

    Returns
    -------
    Verdict

    Raises
    ------
    InputError
        If the answer cannot be read as a quantity of the kind asked for.
    """
    if answer is None or answer is ... or (isinstance(answer, str) and not answer.strip()):
        return Verdict(
            exercise.question, "not yet", "Not yet: put your answer in place of None and run the cell again."
        )
    value, right = exercise.read(answer), exercise.right()
    if exercise.is_near(value, right):
        return Verdict(exercise.question, "right", f"Right: the kit makes it {exercise.write(right)}.")
    for slip in exercise.every_slip:
        if exercise.is_near(value, slip.gives(right)):
            return Verdict(exercise.question, "not right", f"Not right, because {slip.reason}.")
    side = "too high" if value > right else "too low"
    hint = f" {exercise.hint}" if exercise.hint else ""
    return Verdict(exercise.question, "not right", f"Not right, because it is {side}.{hint}")


def exercises() -> Mapping[str, Exercise]:
    """Return every exercise of every lesson, by ``lesson.name``."""
    from limekit.course import lessons

    found = {}
    for module in pkgutil.iter_modules(lessons.__path__):
        lesson = importlib.import_module(f"{lessons.__name__}.{module.name}")
        found |= {f"{module.name}.{name}": one for name, one in vars(lesson).items() if isinstance(one, Exercise)}
    return found
