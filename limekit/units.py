"""One private unit registry, and the words a person may write a quantity in.

Inside the kit every number is a plain SI float; this module is where text and
pint quantities become floats. A few spellings that mean two things are
refused by name, and the explicit spellings are offered.
"""

from __future__ import annotations

import functools
import hashlib
import html
import re
from dataclasses import dataclass
from typing import Annotated

import numpy as np

from limekit.errors import InputError, told


@dataclass(frozen=True)
class Unit:
    """What an ``Annotated`` alias says of its float: its SI unit inside the kit, and of what kind it is.

    Temperatures come in two kinds, a "level" and a "difference". "money" is a plain number on both sides of the edge:
    its currency is a label, named once, and never converted. All else is an "amount".
    """

    si: str
    kind: str = "amount"


Share = Annotated[float, Unit("")]
Count = Annotated[float, Unit("")]
Money = Annotated[float, Unit("", "money")]
Kilogram = Annotated[float, Unit("kg")]
Metre = Annotated[float, Unit("m")]
SquareMetre = Annotated[float, Unit("m^2")]
CubicMetre = Annotated[float, Unit("m^3")]
Second = Annotated[float, Unit("s")]
Kelvin = Annotated[float, Unit("K", "level")]
KelvinDifference = Annotated[float, Unit("delta_degC", "difference")]
Pascal = Annotated[float, Unit("Pa")]
Joule = Annotated[float, Unit("J")]
JoulePerKilogram = Annotated[float, Unit("J/kg")]
JoulePerMole = Annotated[float, Unit("J/mol")]
JoulePerKilogramKelvin = Annotated[float, Unit("J/kg/K")]
KilogramPerMole = Annotated[float, Unit("kg/mol")]
KilogramPerCubicMetre = Annotated[float, Unit("kg/m^3")]
MetrePerSecond = Annotated[float, Unit("m/s")]
SquareMetrePerSecond = Annotated[float, Unit("m^2/s")]
KilogramPerSecond = Annotated[float, Unit("kg/s")]
KilogramPerSquareMetreSecond = Annotated[float, Unit("kg/m^2/s")]
PascalSecond = Annotated[float, Unit("Pa*s")]
MetrePerRootSecond = Annotated[float, Unit("m/s^0.5")]
Watt = Annotated[float, Unit("W")]
WattPerSquareMetre = Annotated[float, Unit("W/m^2")]
WattPerMetreKelvin = Annotated[float, Unit("W/m/K")]
WattPerSquareMetreKelvin = Annotated[float, Unit("W/m^2/K")]

ZERO_CELSIUS = 273.15  # K
MINUTE, HOUR, DAY = 60.0, 3600.0, 86400.0  # s
MM, LITRES, GRAMS = 1000.0, 1000.0, 1000.0  # in a metre; in a cubic metre; in a kilogram
TONNE, MEGA = 1000.0, 1e6  # kg; J in a megajoule

AMBIGUOUS = {
    "ton": '"tonne" (1000 kg), "short_ton" (907 kg) or "long_ton" (1016 kg)',
    "cwt": '"US_hundredweight" (45.4 kg) or "UK_hundredweight" (50.8 kg)',
    "hundredweight": '"US_hundredweight" (45.4 kg) or "UK_hundredweight" (50.8 kg)',
    "bushel": '"US_bushel" (35.2 L) or "imperial_bushel" (36.4 L)',
    "bu": '"US_bushel" (35.2 L) or "imperial_bushel" (36.4 L)',
    "gallon": '"US_liquid_gallon" (3.79 L) or "imperial_gallon" (4.55 L)',
    "gal": '"US_liquid_gallon" (3.79 L) or "imperial_gallon" (4.55 L)',
    "pint": '"US_pint" (0.47 L) or "imperial_pint" (0.57 L)',
    "quart": '"US_liquid_quart" (0.95 L) or "imperial_quart" (1.14 L)',
    "gr": '"g" (gram) or "grain" (0.065 g)',
    "barrel": 'litres, as in "159 L"',
    "kilo": '"kg" for a mass ("kilos" is read as thousands of seconds)',
    "C": '"degC" for a temperature or "delta_degC" for a difference ("C" alone is coulombs)',
    "F": '"degF" for a temperature or "delta_degF" for a difference ("F" alone is farads)',
}

_NUMBER_AND_UNIT = re.compile(
    r"\s*(?P<number>[+-]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d+)?)\s*(?P<unit>[^\d\s.,+-].*)?\s*$"
)
_DECIMAL_COMMA = re.compile(r"\d,\d")
_PLAIN_POWER = re.compile(r"\b([mck]?m|in|ft)([23])\b")
_SMALL_LITRE = re.compile(r"\bl\b")
_WORD = re.compile(r"(?<!°)[A-Za-z_]+")
_FACTOR = r"\(*(?:[^\W\d]|[°%])\w*(?: ?(?:\^|\*\*) ?[+-]?\d(?:\.\d)?)?\)*"
_SPELLED = re.compile(rf"{_FACTOR}(?:(?: ?[*/·] ?| ){_FACTOR})*\.?")
LONGEST = 60  # characters of a unit
NUMBERS = "iufO"  # numpy's kinds of type that are numbers, or objects that may be
KNOWN = "a known unit, such as mm, kg, L, h or degC"


DIGITS, LEAST_PLAIN, MOST_PLAIN = 4, 1e-4, 1e9  # of a quantity that is printed; past the ends as a power of ten
SHOWN = f".{DIGITS}g~P"


@functools.cache
def registry():
    """Return the kit's own pint registry, made at the first conversion; its quantities pickle and come back to it."""
    import pint
    from platformdirs import user_cache_path

    # pint's own place is one for all installations, and keeps paths of whichever came first, also when that is gone
    place = hashlib.blake2s(pint.__file__.encode()).hexdigest()[:12]
    try:
        made = pint.UnitRegistry(cache_folder=str(user_cache_path("limekit", appauthor=False) / "units" / place))
    except OSError:  # where nothing can be kept
        made = pint.UnitRegistry()
    made.define("US_bushel = 2150.42 * inch ** 3")
    made.define("US_pint = 28.875 * inch ** 3")
    made.formatter.default_format = SHOWN
    kind = made.Quantity
    kind.__str__, kind.__repr__, kind.__format__ = _in_words, lambda one: f"<{one}>", _formatted(kind.__format__)
    kind._repr_html_, kind._repr_latex_ = lambda one: html.escape(f"{one}"), None
    made.Quantity.__reduce__ = lambda one: (_unpickled, (one.magnitude, f"{one.units:D}"))
    return made


def _in_words(one) -> str:
    """Return a quantity with the figures that are worth reading, as a power of ten only where it must be."""
    size = one.magnitude
    if np.ndim(size) or not (size == 0 or LEAST_PLAIN <= abs(size) < MOST_PLAIN):
        return format(one, SHOWN)
    number = np.format_float_positional(float(f"{size:.{DIGITS}g}") + 0.0, trim="-")
    return f"{number} {unit_told(one.units)}".rstrip()


def _formatted(format_):
    return lambda one, spec="": format_(one, spec) if spec else _in_words(one)


def _unpickled(magnitude, unit: str):
    """Make a quantity again in the kit's registry, and not in pint's own, which lacks some of the units."""
    return registry().Quantity(magnitude, unit)


def refuse_ambiguous(unit: str, asked: str, example: str) -> None:
    """Raise `InputError` where a unit has two meanings, and offer both by name."""
    for word in _WORD.findall(unit):
        single = word if word in AMBIGUOUS else word.removesuffix("s")
        if single in AMBIGUOUS:
            wanted = f"an explicit spelling: {AMBIGUOUS[single]}"
            raise InputError(asked, f'the unit "{word}", which means more than one thing', wanted, example)


def split_text(text: str, asked: str, example: str = "") -> tuple[float, str]:
    """Split ``"60 mm"`` into its number and its unit.

    Raises `InputError` for a decimal comma, no number, a unit that means two things, or one not spelled of names and
    small powers: pint would work out any sum in it.
    """
    if _DECIMAL_COMMA.search(text):
        wanted = 'a decimal point and no thousands mark, as in "1.5" or "1500"'
        raise InputError(asked, f'"{text}", with a comma inside a number', wanted, example)
    found = _NUMBER_AND_UNIT.match(text)
    if not found:
        raise InputError(asked, f'"{text}"', "one number and its unit", example)
    unit = (found["unit"] or "").strip()
    if unit and not (len(unit) <= LONGEST and _SPELLED.fullmatch(unit)):
        raise InputError(asked, f'the unit "{unit[:LONGEST]}", which is not known', KNOWN, example)
    refuse_ambiguous(unit, asked, example)
    return float(found["number"]), unit


def plain_number(given, asked: str, example: str) -> float:
    """Return a number that comes with no unit, as money does, whose currency is named apart; refuse what is none."""
    try:
        return float(given)
    except (OverflowError, TypeError, ValueError) as fault:
        wanted = 'a plain number with a decimal point; the currency is named once, as in currency="EUR"'
        raise InputError(asked, told(given), wanted, example) from fault


def floats(given, asked: str, example: str):
    """Return a number as a float, a list, array or pandas column of numbers as an array; refuse what is neither."""
    if isinstance(given, float):
        return given
    try:
        if np.ma.isMaskedArray(given):
            given = given.astype(float).filled(np.nan)
        made = np.asarray(given)
        if made.dtype.kind not in NUMBERS:
            raise TypeError(f"values of type {made.dtype}")
        return made.astype(float).item() if made.ndim == 0 else made.astype(float)
    except (OverflowError, TypeError, ValueError) as fault:
        raise InputError(asked, told(given), "a number, or a list of numbers", example) from fault


def quantity(value, unit: str = "", asked: str = "quantity", example: str = '"60 mm"'):
    """Make a pint Quantity in the kit's registry.

    Parameters
    ----------
    value : str, float, array_like or pint.Quantity
        ``"60 mm"``, a number or several, or a Quantity of any registry.
    unit : str
        The unit of a number that came with none.
    asked, example : str
        How an error names the argument, and the example it gives.

    Returns
    -------
    pint.Quantity

    Raises
    ------
    InputError
        If the text cannot be read or its unit is unknown or ambiguous.

    Examples
    --------
    >>> print(quantity("60 mm").to("m"))
    0.06 m
    """
    if isinstance(value, str):
        value, written = split_text(value, asked, example)
        unit = written or unit
    elif hasattr(value, "magnitude") and hasattr(value, "units"):
        value, unit = floats(value.magnitude, asked, example), f"{value.units:D}"
    else:
        value = floats(value, asked, example)
    try:
        return registry().Quantity(value, _spelled(unit))
    except (AttributeError, ValueError, TypeError, AssertionError) as fault:
        raise InputError(asked, f'the unit "{unit}", which is not known', KNOWN, example) from fault


@functools.cache
def _spelled(unit: str):
    return registry().Unit(_PLAIN_POWER.sub(r"\1^\2", unit))


def to_si(given, unit: Unit, asked: str, example: str):
    """Convert a Quantity to a float (or array) in the SI unit of an alias.

    Raises `InputError` if the dimension differs, or a temperature level stands for a difference or the reverse.
    """
    written = f"{given.units:D}" or "no unit"
    is_difference = "delta_" in written
    if unit.kind == "level" and is_difference:
        raise InputError(
            asked, f'a temperature difference, "{given}"', "a temperature level, spelled degC or degF", example
        )
    if unit.kind == "difference" and not is_difference:
        wanted = "a temperature difference, spelled delta_degC or delta_degF"
        raise InputError(asked, f'"{given}", which can be read as a temperature level', wanted, example)
    try:
        return given.to(unit.si).magnitude
    except Exception as fault:
        wanted = f"a quantity that converts to {unit.si or 'a plain share'}"
        raise InputError(asked, f'"{given}", in {written}', wanted, example) from fault


def unit_told(unit) -> str:
    """Return a pint unit in short, a litre as L."""
    return _SMALL_LITRE.sub("L", f"{unit:~P}")


def from_si(value, unit: Unit, shown: str):
    """Wrap an SI float (or array) as a Quantity in the unit a reader is shown; a nought has no minus."""
    return registry().Quantity(value + 0.0, unit.si).to(shown)
