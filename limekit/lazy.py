"""Public names that are imported from their modules when they are first asked for, so that a package is light."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from importlib import import_module
from importlib.util import find_spec


def names_of(package: str, homes: Mapping[str, tuple[str, ...]]) -> tuple[list[str], Callable, Callable]:
    """Return ``__all__``, ``__getattr__`` and ``__dir__`` of a package, from its modules to the public names in each.

    Its modules and version answer too.
    """
    home_of = {name: home for home, names in homes.items() for name in names}
    public = sorted(home_of)

    def get(name: str):
        if name == "__version__":
            return import_module("importlib.metadata").version(package)
        if name not in home_of and not name.startswith("_") and find_spec(f"{package}.{name}"):
            return import_module(f"{package}.{name}")
        if name not in home_of:
            raise AttributeError(f"{package} has no {name!r}; it has {', '.join(public)}")
        return getattr(import_module(f"{package}.{home_of[name]}"), name)

    return public, get, lambda: public
