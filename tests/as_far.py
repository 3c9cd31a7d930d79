"""A change carried out by an amount, or as far as it says that it can go."""

from trueup.geometry.changes import kind_named
from trueup.geometry.errors import CannotChange
from trueup.geometry.pieces.draft import Draft


def as_far_as_it_goes(kind: str, draft: Draft, by: float, **values: object) -> tuple[Draft, float]:
    """Return the draft after a change, and the amount, mm, that it was carried out by."""
    change = kind_named(kind)
    try:
        return change(by=by, **values).apply(draft), by
    except CannotChange as refusal:
        largest = refusal.largest
    assert largest is not None
    assert 0 < largest / by < 1
    return change(by=largest, **values).apply(draft), largest
