"""What an answer rests on, as a table folded under a lesson's words."""

from __future__ import annotations

from html import escape

from limekit import edge, glossary
from limekit.edge import Ground
from limekit.errors import InputError
from limekit.facts import Fact
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


def rests_on(*results) -> Grounds:
    """Return what results of the kit rest on, each figure once: what it is, how it is known and whence.

    Parameters
    ----------
    *results : object
        Any that has a ``basis`` of its own, such as what `limekit.mass_balance` gives, or a plan's ``forecast``;
        a fact, or a fact's key.

    Returns
    -------
    Grounds

    Raises
    ------
    InputError
        If one says nothing of what it rests on.
    """
    known = tuple(dict.fromkeys(ground for one in results for ground in _grounds(one)))
    return Grounds(known)


def _grounds(result) -> tuple[Ground, ...]:
    if isinstance(result, str | Fact):
        return edge.rests_on(result)
    if not getattr(result, "basis", ()):
        wanted = "a result that has a basis"
        raise InputError("rests_on()", f"a {type(result).__name__} that has none", wanted, "rests_on(plan.forecast)")
    return result.basis
