"""The edge: where a person's quantities become SI floats, and floats become quantities again.

`edge` reads a function's signature. An argument annotated with an alias of
`limekit.units` may then be given as text (``"60 mm"``) or a pint Quantity, or
as a bare number where the glossary allows it; it is converted, checked
against its plausible band and handed on as a float. The function as written,
floats in and floats out, stays within reach as ``function.plain``.

A thing (`limekit.things`) and its fields are the same to the edge, either way.
Where a parameter is a thing, a keyword that is a field of it goes into it:
``burning_time("60 mm", "1000 degC", lime_conductivity=0.5)`` burns
``Stone(lime_conductivity=0.5)``. Where parameters are fields, a thing given in
their place is spread over them: ``mass_balance(Stone("1 tonne"), conversion=1)``.
"""

from limekit.edge.asked import Fields, Words, unit_of
from limekit.edge.call import edge
from limekit.edge.figures import give, plain, take, take_one
from limekit.edge.grounds import PUBLISHED, Ground, rests_on

__all__ = [
    "PUBLISHED",
    "Fields",
    "Ground",
    "Words",
    "edge",
    "give",
    "plain",
    "rests_on",
    "take",
    "take_one",
    "unit_of",
]
