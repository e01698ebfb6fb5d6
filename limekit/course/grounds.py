"""What an answer rests on, as a table folded under a lesson's words."""

from __future__ import annotations

from html import escape

from limekit import glossary
from limekit.edge import Ground
from limekit.errors import InputError
from limekit.pictures.pages import Table
from limekit.pictures.shown import Shown

HEADINGS = ("What", "Value", "How it is known", "Whence")


class Grounds(Shown):
    """A folded table of what a result rests on; `rests_on` makes it."""

    def __init__(self, known: tuple[Ground, ...]) -> None:
        rows = ((glossary.label(one.name), one.value, one.kind, one.source) for one in known)
        self.table = Table(HEADINGS, rows)

    def __repr__(self) -> str:
        return f"What this rests on\n{self.table!r}"

    def _html(self) -> str:
        heading = escape("What this rests on")
        return f'<details><summary style="font-size:14px">{heading}</summary>{self.table._html()}</details>'


def rests_on(result) -> Grounds:
    """Return what a result of the kit rests on, each figure once: what it is, how it is known and whence.

    Parameters
    ----------
    result : object
        Any that has a ``basis``, such as what `limekit.mass_balance` gives, or a plan's ``forecast``.

    Returns
    -------
    Grounds

    Raises
    ------
    InputError
        If it says nothing of what it rests on.
    """
    known = tuple(dict.fromkeys(getattr(result, "basis", ())))
    if not known:
        wanted = "a result that has a basis"
        raise InputError("rests_on()", f"a {type(result).__name__} that has none", wanted, "rests_on(plan.forecast)")
    return Grounds(known)
