"""What is wanted of a correction, and how much of it arrives, from readings written down."""

import pytest

from tests.builders import block
from tests.lineage.making import change
from trueup.lineage.replay.intentions import Intention, ReadDraft, carried_of, intentions
from trueup.lineage.replay.verdicts import Carried


def reading(**measures: float) -> ReadDraft:
    return ReadDraft({name.replace("_", "."): mm for name, mm in measures.items()}, {})


def dart(intake: float, angle: float) -> ReadDraft:
    return ReadDraft({"front.bust.intake": intake}, {"front.bust.angle": (angle,)})


SHORTER = change("shorten-shoulder", by="12mm")
DEEPER = change("deepen-dart", dart="front.bust", by="8mm")


def test_what_was_wanted_is_compared_with_what_arrived():
    old = reading(front_shoulder=127.0, back_shoulder=127.0)
    new = reading(front_shoulder=114.3, back_shoulder=114.3)
    wanted = intentions([SHORTER], block(), old, new, ())
    found = carried_of(wanted, reading(front_shoulder=130.0), reading(front_shoulder=117.3))
    assert found == (
        Carried("front.shoulder", pytest.approx(-12.7), pytest.approx(-12.7)),
        Carried("back.shoulder", pytest.approx(-12.7), None),
    )


def test_a_measure_the_correction_did_not_move_asks_nothing_of_a_child():
    old = reading(front_shoulder=100.0)
    new = reading(front_shoulder=100.0 + 0.025)
    assert intentions([SHORTER], block(), old, new, ()) == ()


def test_a_measure_that_came_or_went_counts_in_full():
    (carried,) = carried_of([Intention("x", 12.0)], reading(), reading(x=12.0))
    assert carried.arrived


def test_a_dart_is_read_by_its_angle_where_both_open_on_an_edge():
    wanted = intentions([DEEPER], block(), dart(30.0, 0.20), dart(38.0, 0.25), ())
    (whole,) = carried_of(wanted, dart(60.0, 0.20), dart(75.0, 0.25))
    assert whole == Carried("front.bust.intake", 8.0, pytest.approx(8.0))
    (half,) = carried_of(wanted, dart(60.0, 0.20), dart(67.5, 0.225))
    assert half.got_mm == pytest.approx(4.0)
    inside = ReadDraft({"front.bust.intake": 20.0}, {}), ReadDraft({"front.bust.intake": 28.0}, {})
    (by_intake,) = carried_of(wanted, *inside)
    assert by_intake.got_mm == pytest.approx(8.0)


def test_a_dart_that_did_not_turn_is_read_by_its_intake():
    # Its edge moved out, and its mouth with it; of its angle only the arithmetic's noise differs.
    wanted = intentions([DEEPER], block(), dart(30.0, 0.20), dart(31.0, 0.20 + 1e-15), ())
    (wider,) = carried_of(wanted, dart(60.0, 0.20), dart(61.0, 0.21))
    assert wider == Carried("front.bust.intake", 1.0, pytest.approx(1.0))


def split(angle: float, together: float) -> ReadDraft:
    forms = {"front.bust.angle": (angle,), "front.bust.shared-angle": (together,)}
    return ReadDraft({"front.bust.intake": 100 * angle}, forms)


def test_a_dart_that_was_split_is_read_with_all_that_open_from_its_pivot():
    wanted = intentions([DEEPER], block(), dart(30.0, 0.20), dart(38.0, 0.25), ())
    (shared,) = carried_of(wanted, split(0.12, 0.20), split(0.15, 0.25))
    assert shared == Carried("front.bust.intake", 8.0, pytest.approx(8.0))
    (half,) = carried_of(wanted, split(0.12, 0.20), split(0.135, 0.225))
    assert half.got_mm == pytest.approx(4.0)


def test_a_dart_that_was_joined_to_another_is_read_in_that_one():
    wanted = intentions([DEEPER], block(), dart(30.0, 0.20), dart(38.0, 0.25), ())
    old, new = (
        ReadDraft({"front.waist.intake": 60.0}, {"front.waist.angle": (angle,)})
        for angle in (0.30, 0.35)
    )
    (joined,) = carried_of(wanted, old, new)
    assert joined == Carried("front.bust.intake", 8.0, pytest.approx(8.0))
    (gone,) = carried_of(wanted, old, old)
    assert gone.got_mm is None


def test_a_dart_that_another_only_stands_beside_is_read_by_itself():
    wanted = intentions([DEEPER], block(), dart(30.0, 0.20), dart(38.0, 0.25), ())
    (own,) = carried_of(wanted, split(0.20, 0.30), split(0.25, 0.30))
    assert own.got_mm == pytest.approx(8.0)


def test_a_line_that_moved_nothing_it_was_made_for_is_judged_by_what_it_drew():
    flat, bent = (0.0,) * 31, (5.0,) * 31
    old = ReadDraft({"front.shoulder": 100.0}, {"front.armhole.line": (200.0, *flat)})
    new = ReadDraft({"front.shoulder": 100.0}, {"front.armhole.line": (200.0, *bent)})
    (wanted,) = intentions([SHORTER], block(), old, new, ("front.armhole",))
    assert (wanted.name, wanted.wanted_mm) == ("front.armhole.line", pytest.approx(5.0, abs=0.1))
