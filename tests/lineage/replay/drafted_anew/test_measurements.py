"""Which measurements of a block were taken anew."""

from tests.lineage.making import BODY, block, child
from trueup.geometry.units import Unit
from trueup.lineage.files.records import BlockDraft, NodeRecord, replace
from trueup.lineage.replay.drafted_anew.measurements import is_drafted_anew, remeasured


def of(**body: str) -> NodeRecord:
    named = {name.replace("_", "-"): text for name, text in body.items()}
    return replace(block(), draft=BlockDraft("bust-proportion", {**BODY, **named}))


def test_a_measurement_says_from_what_to_what():
    (bust,) = remeasured(block(), of(bust="93cm"), Unit.CENTIMETRE)
    assert (bust.name, bust.before, bust.after) == ("bust", "88cm", "93cm")
    assert bust.words == "bust 88cm -> 93cm"


def test_what_is_only_written_otherwise_is_the_same_measurement():
    assert remeasured(block(), of(bust="880 mm", waist="68"), Unit.CENTIMETRE) == ()
    assert [r.name for r in remeasured(block(), of(waist="68"), Unit.MILLIMETRE)] == ["waist"]


def test_a_measurement_of_one_side_alone_is_new_or_gone():
    less = replace(block(), draft=BlockDraft("bust-proportion", {"bust": "88cm"}))
    assert remeasured(less, of(), Unit.MILLIMETRE)[0].words == "waist - -> 68cm"


def test_what_is_not_drafted_in_both_is_never_drafted_anew():
    assert remeasured(None, block(), Unit.MILLIMETRE) == ()
    assert remeasured(child("a"), child("a"), Unit.MILLIMETRE) == ()
    assert not is_drafted_anew(None, block())
    assert not is_drafted_anew(block(), block())
    assert is_drafted_anew(block(), of(bust="93cm"))
