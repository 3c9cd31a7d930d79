"""From a symptom to checks read against the pattern at hand."""

from datetime import date
from typing import Any

import pytest

from tests.lineage.making import Bench, block, change, child, state, step
from trueup.geometry.changes import kind_named, read_change
from trueup.geometry.errors import NoSuchName
from trueup.geometry.units import Unit, parse_length
from trueup.lineage.diagnosis.diagnose import Advice, Diagnosis, diagnose, diagnose_note
from trueup.lineage.diagnosis.proposing import amount_of
from trueup.lineage.errors import NoSuchNode
from trueup.lineage.evaluation.evaluate import Evaluator
from trueup.lineage.files.garment_errors import NoSuchSymptom
from trueup.lineage.files.garment_records import FitNote, GarmentRecord
from trueup.lineage.files.records import ParentRecord, Role
from trueup.lineage.files.state import State
from trueup.lineage.symptoms.rows import ROWS

TODAY = date(2025, 3, 1)


@pytest.fixture(scope="module")
def bench() -> Bench:
    """A block, a block with a longer shoulder below it, and patterns of both."""
    made = Bench(
        state(
            block(),
            child("easy", step("long", "shorten-shoulder", by="-5mm")),
            child("blouse", of="easy"),
            child("shirt", of="easy"),
            child("own", step("own1", "scoop-armhole", Role.CORRECTION, piece="front", by="8mm")),
            child("turned", step("turn", "rotate-dart", **_to_the_side())),
            child("vest", of=[ParentRecord("village", ("front", "back"))]),
        )
    )
    made.earlier["c" * 40] = made.state
    return made


def _to_the_side() -> dict[str, str]:
    return {"dart": "front.bust", "edge": "front.side", "at": "50mm from underarm"}


def note(symptom: str = "armhole-binds", **more: Any) -> FitNote:
    given = {"place": "front.armhole", "date": TODAY, **more}
    return FitNote("n1", symptom, **given)


def garment(name: str, pattern: str, *notes: FitNote) -> GarmentRecord:
    return GarmentRecord(name, pattern, "c" * 40, TODAY, notes=notes)


def wearing(bench: Bench, *garments: GarmentRecord) -> Evaluator:
    """Return an evaluator of the bench's wardrobe with garments cut from it."""
    dressed = State(bench.state.settings, bench.state.nodes, {g.name: g for g in garments})
    return Evaluator(dressed, earlier=lambda commit: bench.of(bench.earlier[commit]))


def first(found: Diagnosis) -> Advice:
    return found.advice[0]


def test_the_shoulder_is_checked_first(bench: Bench) -> None:
    found = diagnose(bench.evaluator, "blouse", "underarm-collapses", "front.side")
    looks = [each.check.look_at for each in found.advice]
    assert looks[0] == "slope of the shoulder"
    assert looks[-1] == "width under the arm"


def test_a_correction_belongs_where_the_edge_got_its_shape(bench: Bench) -> None:
    found = first(diagnose(bench.evaluator, "blouse", "shoulder-too-long", "front.shoulder", 8.0))
    assert found.origin is not None
    assert found.origin.node == "easy"
    assert found.proposed is not None
    assert (found.proposed.node, found.proposed.kind) == ("easy", "shorten-shoulder")
    assert found.proposed.values == {"by": "8mm"}
    assert found.here is not None
    assert found.here.node == "blouse"


def test_an_edge_never_reshaped_belongs_to_the_block(bench: Bench) -> None:
    found = first(diagnose(bench.evaluator, "blouse", "neck-tight", "back.neck"))
    assert found.proposed is not None
    assert found.proposed.node == "village"
    assert found.proposed.values == {"piece": "back", "by": "3mm"}


def test_on_the_node_at_fault_itself_nothing_else_is_offered(bench: Bench) -> None:
    found = first(diagnose(bench.evaluator, "own", "armhole-binds"))
    assert found.proposed is not None
    assert found.proposed.node == "own"
    assert found.here is None


@pytest.mark.parametrize(
    ("noted", "amount", "capped"),
    [(None, 3.0, False), (5.0, 5.0, False), (13.0, 13.0, False), (20.0, 13.0, True)],
)
def test_what_was_noted_is_capped_at_the_largest_recommended(
    bench: Bench, noted: float | None, amount: float, capped: bool
) -> None:
    found = first(diagnose(bench.evaluator, "blouse", "armhole-binds", "front.armhole", noted))
    assert (found.amount, found.capped) == (amount, capped)
    assert found.proposed is not None
    assert parse_length(str(found.proposed.values["by"]), Unit.MILLIMETRE) == amount


def test_four_side_edges_make_four_times_the_girth(bench: Bench) -> None:
    (advice,) = diagnose(bench.evaluator, "blouse", "hip-tight", None, 10.0).advice
    assert advice.proposed is not None
    assert advice.proposed.values == {"by": "40mm"}
    assert "four side edges" in advice.check.counted


def test_cap_ease_is_brought_down_from_what_it_is(bench: Bench) -> None:
    ease = bench.measure("blouse", "sleeve.cap-ease")
    advice = first(diagnose(bench.evaluator, "blouse", "cap-puckers"))
    assert advice.here is not None
    to = parse_length(str(advice.here.values["to"]), Unit.MILLIMETRE)
    assert to == pytest.approx(ease - 13, abs=0.05)


def test_cap_ease_is_brought_no_lower_than_half_an_inch(bench: Bench) -> None:
    advice = first(diagnose(bench.evaluator, "village", "cap-puckers", None, 100.0))
    assert advice.proposed is not None
    assert advice.proposed.values == {"to": "12.7mm"}
    small = Bench(state(block("village", step("small", "refit-cap", to="10mm"))))
    found = first(diagnose(small.evaluator, "village", "cap-puckers"))
    assert found.proposed is None
    assert "no more than that already" in found.obstacle


def test_the_pattern_is_read_beside_its_block(bench: Bench) -> None:
    found = first(diagnose(bench.evaluator, "blouse", "shoulder-too-long"))
    reading = next(r for r in found.readings if r.measure == "front.shoulder")
    assert reading.block_mm is not None
    assert reading.now_mm - reading.block_mm == pytest.approx(5)
    assert reading.now_mm == bench.measure("blouse", "front.shoulder")
    assert reading.cut_mm is None


def test_siblings_that_have_the_same_complaint_are_no_measure(bench: Bench) -> None:
    def beside(*garments: GarmentRecord) -> list[tuple[str, int]]:
        found = first(diagnose(wearing(bench, *garments), "blouse", "armhole-binds"))
        return [(each.name, each.garments) for each in found.readings[0].siblings]

    assert beside() == [("shirt", 0)]
    assert beside(garment("one", "shirt"), garment("two", "shirt")) == [("shirt", 2)]
    assert beside(garment("one", "shirt", note("neck-tight"))) == [("shirt", 1)]
    assert beside(garment("one", "shirt", note())) == []
    mended = note(resolved_by=("own1",))
    assert beside(garment("one", "shirt", mended)) == [("shirt", 1)]


def test_a_garment_is_read_beside_the_cloth_that_was_cut(bench: Bench) -> None:
    later = Bench(bench.state, earlier=dict(bench.earlier))
    cut = garment("one", "blouse", note(amount_mm=5.0))
    later.correct("village", change("scoop-armhole", piece="front", by="4mm"))
    evaluator = wearing(later, cut)
    found = diagnose_note(evaluator, cut, cut.notes[0])
    reading = next(r for r in first(found).readings if r.measure == "front.chest-width")
    assert reading.cut_mm is not None
    assert reading.now_mm - reading.cut_mm == pytest.approx(-4, abs=0.2)
    assert found.amount == 5.0
    assert found.note == cut.notes[0]


def test_a_fold_goes_into_the_dart_where_that_opens_on_the_armhole(bench: Bench) -> None:
    """A pattern that turned its bust dart away is mended at the block that has it there."""
    found = first(diagnose(bench.evaluator, "turned", "armhole-gapes", "front.armhole"))
    assert found.proposed is not None
    assert found.proposed.node == "village"
    assert found.here is None
    alone = Bench(state(block("village", step("turn", "rotate-dart", **_to_the_side()))))
    found = first(diagnose(alone.evaluator, "village", "armhole-gapes"))
    assert found.proposed is None
    assert "opens on front.side" in found.obstacle


def test_what_a_pattern_does_not_have_is_said(bench: Bench) -> None:
    found = first(diagnose(bench.evaluator, "vest", "cap-pulls"))
    assert found.proposed is None
    assert found.origin is None
    assert found.obstacle == "vest has no sleeve.cap"


def test_a_pattern_that_stays_on_an_old_version_is_corrected_itself(bench: Bench) -> None:
    held = child("held", of=[ParentRecord("easy", hold="c" * 40)])
    stands = state(*bench.state.nodes.values(), held)
    evaluator = Evaluator(stands, earlier=lambda commit: bench.of(bench.earlier[commit]))
    found = first(diagnose(evaluator, "held", "shoulder-too-long"))
    assert found.proposed is not None
    assert found.proposed.node == "held"


@pytest.mark.parametrize("symptom", ROWS)
@pytest.mark.parametrize("node", ["blouse", "turned", "vest"])
def test_whatever_is_proposed_can_be_done(bench: Bench, node: str, symptom: str) -> None:
    evaluator = bench.evaluator
    for advice in diagnose(evaluator, node, symptom).advice:
        for made in (advice.proposed, advice.here):
            if made is not None:
                correction = read_change(kind_named(made.kind), made.values, Unit.MILLIMETRE)
                correction.apply(evaluator.draft(made.node))
        assert advice.check.kind is None or bool(advice.proposed) != bool(advice.obstacle)


def test_what_concerns_the_place_comes_first_where_only_words_are_known(bench: Bench) -> None:
    looks = diagnose(bench.evaluator, "blouse", "other", "front.neck").looks
    fits = [each.fits_place for each in looks]
    assert fits == sorted(fits, reverse=True)
    assert any(fits)
    for wanted in (True, False):
        ranks = [each.area.rank for each in looks if each.fits_place is wanted]
        assert ranks == sorted(ranks)


def test_a_note_in_free_words_keeps_its_words(bench: Bench) -> None:
    cut = garment("one", "blouse", note("other", words="it itches"))
    found = diagnose_note(wearing(bench, cut), cut, cut.notes[0])
    assert found.symptom == "other"
    assert found.words == "it itches"
    assert found.advice == ()


def test_an_unusual_place_is_remarked_on(bench: Bench) -> None:
    assert diagnose(bench.evaluator, "blouse", "armhole-binds", "back").usual
    assert diagnose(bench.evaluator, "blouse", "bust-tight", "front.bust").usual
    assert not diagnose(bench.evaluator, "blouse", "armhole-binds", "sleeve.hem").usual


def test_what_is_not_there_is_refused_with_the_nearest(bench: Bench) -> None:
    with pytest.raises(NoSuchNode, match="blouse"):
        diagnose(bench.evaluator, "blose", "armhole-binds")
    with pytest.raises(NoSuchSymptom, match="armhole-binds"):
        diagnose(bench.evaluator, "blouse", "armhole-bind")
    with pytest.raises(NoSuchName, match=r"front\.armhole"):
        diagnose(bench.evaluator, "blouse", "armhole-binds", "front.armhol")


def test_a_place_only_the_cut_cloth_has_is_taken(bench: Bench) -> None:
    short = Bench(state(block(), child("blouse")), earlier={"c" * 40: bench.state})
    cut = garment("one", "blouse", note(place="sleeve.cap"))
    sleeveless = child("blouse", of=[ParentRecord("village", ("front", "back"))])
    short.state = short.state.with_nodes([sleeveless])
    assert diagnose_note(wearing(short, cut), cut, cut.notes[0]).place == "sleeve.cap"


def test_an_amount_is_none_where_the_change_finds_its_own() -> None:
    check = ROWS["side-seam-puckers"].checks[0]
    assert amount_of(check, 10.0) == (None, False)
