"""Changes by the names of their kinds, for the tests to make."""

from trueup.geometry.changes import Change, kind_named, read_change
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.units import Unit


def made(kind: str, **values: object) -> Change:
    """Return a change of a kind, of values as it holds them."""
    return kind_named(kind)(**values)


def changed(draft: Draft, kind: str, **values: object) -> Draft:
    """Return a draft after a change of a kind, of values as a file or a maker gives them."""
    return read_change(kind_named(kind), values, Unit.MILLIMETRE).apply(draft)
