"""What is worked out once and kept in its object, for values that never change."""

from collections.abc import Callable
from typing import Any, Generic, TypeVar, overload

Kept = TypeVar("Kept")
Value = TypeVar("Value")


class kept(Generic[Kept]):  # noqa: N801
    """As `functools.cached_property`, without the lock it takes before Python 3.12."""

    def __init__(self, work: Callable[[Any], Kept]) -> None:
        """Keep what `work` makes of an object, under the name it is given in the object's class."""
        self._work = work
        self.__doc__ = work.__doc__

    def __set_name__(self, owner: type, name: str) -> None:
        self._name = name

    @overload
    def __get__(self, instance: None, owner: type) -> "kept[Kept]": ...
    @overload
    def __get__(self, instance: object, owner: type) -> Kept: ...
    def __get__(self, instance: object, owner: type) -> "Kept | kept[Kept]":
        # Found only where the object keeps nothing yet: what it keeps comes before what is here.
        if instance is None:
            return self
        value = instance.__dict__[self._name] = self._work(instance)
        return value


def hashed_once(value: type[Value]) -> type[Value]:
    """Let a frozen dataclass keep its hash, which else goes through all it is made of each time."""
    work = value.__hash__

    def hashed(self: object) -> int:
        if (known := self.__dict__.get("_hash")) is None:
            known = self.__dict__["_hash"] = work(self)
        return int(known)

    def sent(self: object) -> dict[str, object]:
        # A text has another hash in each process: what is sent to one works its own out there.
        return {name: each for name, each in self.__dict__.items() if name != "_hash"}

    value.__hash__ = hashed  # type: ignore[method-assign]
    value.__getstate__ = sent  # type: ignore[method-assign]
    return value
