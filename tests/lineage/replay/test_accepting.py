"""How far an acceptance holds, from literals."""

import datetime

import pytest

from trueup.lineage.files.records import ConflictKind, ConflictRecord, ConflictState, replace
from trueup.lineage.replay.accepting import accepted, accepted_again, as_accepted, covered
from trueup.lineage.replay.collisions import Collision

DAY = datetime.date(2025, 3, 1)


def collision(code: str, measured: float, high: float = 5.0) -> Collision:
    kind = ConflictKind.SEAM if code == "seam" else ConflictKind.SHAPE
    excess = max(measured - high, -high - measured, 0.0)
    return Collision(kind, code, "front", "side", f"{measured}", measured, (-high, high), excess)


def record(code: str, measured: float) -> ConflictRecord:
    found = collision(code, measured)
    after = None if "kink" in code else measured
    return ConflictRecord(
        "seam-1", found.kind, "blouse", "front", "side", code, found.says,
        after_mm=after, allowed_mm=found.allowed_mm, excess_mm=found.excess,
    )  # fmt: skip


@pytest.mark.parametrize("code", ["seam", "kink"])
def test_it_holds_again_at_its_amount_and_at_less_but_not_at_more(code: str):
    stood = accepted(record(code, 17.0), "a vent", DAY)
    assert stood.state is ConflictState.ACCEPTED
    assert stood.decisions[-1].accepted_excess == 12
    opened = replace(stood, state=ConflictState.OPEN, excess_mm=20.0)
    for measured in (17.0, 16.0, 6.0):
        again = accepted_again(opened, collision(code, measured))
        assert again is not None
        assert (again.state, again.excess_mm) == (ConflictState.ACCEPTED, 12)
    assert accepted_again(opened, collision(code, 22.0)) is None


def test_on_the_other_side_it_is_another_matter():
    opened = replace(accepted(record("seam", 17.0), "", DAY), state=ConflictState.OPEN)
    assert accepted_again(opened, collision("seam", -8.0)) is None


def test_what_was_never_accepted_is_not_accepted_again():
    assert accepted_again(record("seam", 17.0), collision("seam", 6.0)) is None


def test_an_acceptance_from_before_amounts_were_kept_holds_while_it_is_left_alone():
    old = accepted(record("seam", 17.0), "", DAY)
    bare = replace(old, decisions=(replace(old.decisions[0], accepted_excess=None),))
    assert as_accepted(bare) == bare
    assert as_accepted(replace(bare, state=ConflictState.OPEN)) is None


def test_a_line_kept_without_a_correction_stays_so_until_more_of_it_is_lost():
    def lost(amount: float) -> ConflictRecord:
        return replace(record("seam", 0.0), kind=ConflictKind.BOTH_SHAPED, excess_mm=amount)

    stood = accepted(lost(10.0), "as it is", DAY)
    assert covered(stood, lost(8.0)) == stood
    assert covered(stood, lost(14.0)) is None
    assert covered(lost(10.0), lost(8.0)) is None
