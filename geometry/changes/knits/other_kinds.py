"""Other kinds of change that a kind here is made of, each in the version it was made of then."""

from typing import Any

from trueup.geometry.changes.base import Change, kind_named
from trueup.geometry.changes.parameters import read_change
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.units import Unit

_VERSIONS = {
    "add-ease": 3,
    "dart-to-flare": 1,
    "refit-cap": 2,
    "release-dart": 1,
    "rotate-dart": 1,
    "smooth-edge": 1,
    "split-dart": 1,
    "true-hem": 3,
}
"""Where one of them is improved, a step that was made of it still comes out as it did."""


def of_kind(kind: str, **values: Any) -> Change:
    """Return a change of another kind; lengths among its values are mm."""
    return read_change(kind_named(kind, _VERSIONS[kind]), values, Unit.MILLIMETRE)


def made(draft: Draft, kind: str, **values: Any) -> Draft:
    """Return a draft after a change of another kind; raises what that raises."""
    return of_kind(kind, **values).carried_out(draft)
