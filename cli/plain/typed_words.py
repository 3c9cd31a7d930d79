"""Words of a command line that are taken as they were typed, which is most of them.

Typer has pydantic look at every value, and loading that takes longer than most verbs. It is asked
only where there is something to convert or to refuse.
"""

import os
from collections.abc import Callable, Iterable
from pathlib import Path
from typing import Any


def take_as_typed(parameters: Iterable[Any]) -> None:
    """Have parameters of a command take plain words, and paths that can be read, as they are."""
    for each in parameters:
        usual = getattr(each, "get_runtime_param", None)  # not in every version of typer
        if usual is not None and not isinstance(usual, _AsTyped):
            each.get_runtime_param = _AsTyped(usual)


class _AsTyped:
    """What typer asks for the value of one parameter; `usual` returns what it asks otherwise."""

    def __init__(self, usual: Callable[[], Any]) -> None:
        self._usual = usual

    def __call__(self) -> "_AsTyped":
        return self

    def coerce(self, value: Any, param: Any, ctx: Any) -> Any:
        """Return a value as the command takes it; raises what typer raises for a bad one."""
        wanted = param.type_descriptor.annotation
        if value is None:
            return () if param.multiple or param.nargs == -1 else None
        if wanted is str and _is_plain(value):
            return value
        if wanted == list[str] and isinstance(value, list | tuple) and all(map(_is_plain, value)):
            return list(value)
        if wanted is Path and _is_plain(value) and _may_be_read(value):
            return Path(value)
        return self._usual().coerce(value, param=param, ctx=ctx)


def _is_plain(value: object) -> bool:
    if not isinstance(value, str) or "\0" in value:
        return False
    try:
        value.encode()
    except UnicodeEncodeError:  # bytes that are no text in the maker's encoding
        return False
    return True


def _may_be_read(path: str) -> bool:
    return not os.path.exists(path) or os.access(path, os.R_OK)
