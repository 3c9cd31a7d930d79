"""Which steps touched some files, as far back as a version's history goes."""

from msgspec import Struct


class KeptPast(Struct, frozen=True):
    """The ids of the steps up to the version `until` that touched some files, newest first.

    A version says for good what came before it; in a shallow copy that is cut off at the `oldest`.
    """

    until: str
    oldest: frozenset[str]
    steps: tuple[str, ...]
