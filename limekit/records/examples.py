"""The invented examples that the kit ships."""

from __future__ import annotations

from importlib import resources
from pathlib import Path

from limekit.errors import not_among
from limekit.kinds import guarded


@guarded
def example_path(name: str) -> Path:
    """Return where a shipped example lies.

    Parameters
    ----------
    name : str
        ``"trial_example.csv"`` or another file of invented figures.

    Raises
    ------
    InputError
        If the kit ships no such example.
    """
    folder = Path(str(resources.files("limekit").joinpath("data")))
    known = {path.name: path for path in sorted(folder.glob("*_example.*"))}
    if name not in known:
        raise not_among(known, "name of an example", name, 'example_path("{near}")')
    return known[name]
