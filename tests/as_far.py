"""A change carried out by an amount, or as far as it says that it can go."""

from trueup.geometry.changes import kind_named
from trueup.geometry.errors import CannotChange
from trueup.geometry.pieces.draft import Draft


def as_far_as_it_goes(kind: str, draft: Draft, by: float, **values: object) -> tuple[Draft, float]:
    """Return the draft after a change, and the amount, mm, that it was carried out by."""
    try:
        return kind_named(kind)(by=by, **values).apply(draft), by
    except CannotChange as refusal:
        assert refusal.largest is not None
        assert 0 < refusal.largest / by < 1
        return kind_named(kind)(by=refusal.largest, **values).apply(draft), refusal.largest
