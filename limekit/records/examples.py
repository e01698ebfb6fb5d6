"""The invented examples that the kit ships."""

from __future__ import annotations

import difflib
from importlib import resources
from pathlib import Path

from limekit.errors import InputError


def example_path(name: str) -> Path:
    """Return where a shipped example lies.

    Parameters
    ----------
    name : str
        ``"trial_example.csv"`` or another file of invented figures.

    Returns
    -------
    pathlib.Path

    Raises
    ------
    InputError
        If the kit ships no such example.
    """
    folder = Path(str(resources.files("limekit").joinpath("data")))
    known = {path.name: path for path in sorted(folder.glob("*_example.*"))}
    if name not in known:
        near = (difflib.get_close_matches(str(name), known, n=1) or list(known))[0]
        raise InputError("name of an example", repr(name), f"one of {', '.join(known)}", f'example_path("{near}")')
    return known[name]
