"""What is said where an answer was typed without its quotation marks, as `answer = 50 °C`."""

from __future__ import annotations

import re
import sys
from types import TracebackType

FIGURE = r"(?P<given>[-+]?\d[\d.,]*\s*(?:%|°?[^\W\d][\w^*/.° ]*?))"
TYPED = re.compile(rf"\s*(?P<name>\w+)\s*=\s*{FIGURE}\s*(?:#.*)?")
LONGEST = 120  # characters of a line that is looked at


def help_with(line: str) -> str:
    """Return the help for a line of code that could not be read, or nothing where no figure was meant."""
    found = TYPED.fullmatch(line) if len(line) <= LONGEST else None
    if not found:
        return ""
    return (
        f'A figure with its unit stands in quotation marks: {found["name"]} = "{found["given"]}"\n'
        "Put them round it and run the cell again."
    )


def offer_help() -> None:
    """Have the notebook, where there is one, help with a forgotten quotation mark; its own message stays."""
    ipython = sys.modules.get("IPython")
    shell = ipython and ipython.get_ipython()
    if shell is not None and not shell.custom_exceptions:
        shell.set_custom_exc((SyntaxError,), _told)


def _told(shell, kind: type, fault: SyntaxError, trace: TracebackType | None, tb_offset: int | None = None) -> None:
    if isinstance(fault, IndentationError):
        shell.showindentationerror()
    else:
        shell.showsyntaxerror()
    if told := help_with((fault.text or "").rstrip("\n")):
        print(told)
