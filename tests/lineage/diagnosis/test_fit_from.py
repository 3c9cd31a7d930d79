"""From what was pinned on a garment to corrections that take up exactly so much."""

from contextlib import suppress
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.lineage.making import Bench, block, child, state, step
from tests.refusals import refusing
from trueup.cli.wording.words import worded_error
from trueup.geometry.changes import kinds, parameters
from trueup.geometry.errors import BadLength, BadParameter, BadPosition, GeometryError, NoSuchName
from trueup.geometry.measuring.measures import measures
from trueup.geometry.units import Unit
from trueup.lineage.diagnosis.fit_from import Fit, fit_from
from trueup.lineage.diagnosis.pin_rules import RULES, concrete, places_of
from trueup.lineage.diagnosis.pinned import How, Pin
from trueup.lineage.errors import CannotStep, NoSuchNode, WardrobeError
from trueup.lineage.files.fitting import read_fitting
from trueup.lineage.files.records import ParentRecord

SETTINGS = settings(max_examples=60)


@pytest.fixture(scope="module")
def bench() -> Bench:
    return Bench(
        state(
            block(),
            child("easy", step("long", "shorten-shoulder", by="-5mm")),
            child("blouse", of="easy"),
            child("own"),
            child("dress", step("down", "lengthen", by="300mm")),
            child("vest", of=[ParentRecord("village", ("front", "back"))]),
        )
    )


def fit(bench: Bench, pattern: str, *texts: str, on: str | None = None) -> Fit:
    """Return a fitting; each text is a way and a place with its amount."""
    pins = []
    for text in texts:
        how, _, rest = text.partition(" ")
        pins.append(Pin.read(How(how), rest, Unit.MILLIMETRE))
    return fit_from(bench.evaluator, pattern, pins, on)


def moved(bench: Bench, found: Fit) -> dict[str, float]:
    """Return by how much each measure changes once the fitting's own text is read and made."""
    fitting = read_fitting("fitting.toml", found.text.encode(), Unit.INCH)
    before = draft = bench.evaluator.draft(found.node)
    for change in fitting.changes:
        draft = change.apply(draft)
    old, new = measures(before), measures(draft)
    return {name: new[name] - old[name] for name in old if name in new}


# How far each measure moves for each mm given at a place. A width square to the centre is not all
# that a slanted seam loses, and a dart set aslant cuts its edge by a few hundredths more or less.
TAKEN_IN = {
    "front.shoulder": {"front.shoulder": -1, "back.shoulder": -1},
    "back.shoulder": {"front.shoulder": -1, "back.shoulder": -1},
    "front.shoulder-point": {"front.shoulder-drop": 1, "back.shoulder-drop": 1},
    "shoulder-seam": {"front.shoulder-drop": 0.5, "back.shoulder-drop": 0.5},
    "front.side": {"front.bust-width": -1, "back.bust-width": -1},
    "side-seam": {"front.bust-width": -0.5, "back.bust-width": -0.5},
    "bust": {"front.bust-width": -0.25, "back.bust-width": -0.25},
    "sleeve.back-seam": {"sleeve.biceps-width": -2, "sleeve.hem": -2},
    "sleeve-seam": {"sleeve.biceps-width": -1, "sleeve.hem": -1},
    "biceps": {"sleeve.biceps-width": -1, "sleeve.hem": 0},
    "wrist": {"sleeve.biceps-width": 0, "sleeve.hem": -1},
    "sleeve.crown": {"sleeve.cap-height": -1},
    "sleeve.cap": {"sleeve.cap-ease": -1},
    "sleeve.hem": {"sleeve.back-seam": -1, "sleeve.front-seam": -1},
    "front.bust": {"front.bust.intake": 1},
    "front.waist": {"front.waist.intake": 1},
    "back.shoulder-dart": {"back.shoulder.intake": 1},
}
CHALKED = {
    "front.neck": {"front.neck-depth": 1, "back.neck-depth": 0},
    "back.neck": {"back.neck-depth": 1, "front.neck-depth": 0},
    "front.neck-point": {"front.shoulder": -1, "back.shoulder": -1},
    "front.underarm": {"front.side": -1, "back.side": -1},
}


@SETTINGS
@given(data=st.data())
def test_what_was_pinned_is_what_the_measure_moves_by(bench: Bench, data: st.DataObject) -> None:
    how = data.draw(st.sampled_from(How))
    table = CHALKED if how is How.CHALKED else TAKEN_IN
    place = data.draw(st.sampled_from(sorted(table)))
    amount = data.draw(st.floats(0.5, 12))
    sign = -1 if how is How.LET_OUT else 1
    found = moved(bench, fit(bench, "blouse", f"{how.value} {place}={amount!r}mm"))
    for measure, share in table[place].items():
        # The bust is measured square to the grain, beside a seam that may lie a little aslant.
        assert found[measure] == pytest.approx(sign * share * amount, abs=0.02)


@pytest.mark.parametrize("place", ["front.armhole=5mm@50%", "front.armhole=5mm", "front.bust=5mm"])
def test_a_fold_in_the_armhole_goes_into_the_bust_dart(bench: Bench, place: str) -> None:
    found = fit(bench, "village", f"pinned {place}")
    (correction,) = found.corrections
    assert correction.values == {"dart": "front.bust", "by": "5mm"}
    change = moved(bench, found)
    assert change["front.bust.intake"] == pytest.approx(5)
    assert change["front.armhole"] == pytest.approx(-5, abs=0.1)


def test_a_fold_at_the_waist_goes_into_the_dart_nearest_to_it(bench: Bench) -> None:
    def dart(place: str) -> object:
        return fit(bench, "village", f"pinned {place}").corrections[0].values["dart"]

    assert dart("front.hem=6mm@25%") == "front.waist-side"
    assert dart("front.hem=6mm@70%") == "front.waist"
    assert dart("front.hem=6mm@25% from hem-centre") == "front.waist"
    with refusing(BadParameter, match="waist-side and waist"):
        dart("front.hem=6mm")


def test_a_hem_below_the_waist_is_turned_up(bench: Bench) -> None:
    found = fit(bench, "dress", "pinned front.hem=10mm", "pinned back.hem=10mm")
    assert [each.values["piece"] for each in found.corrections] == ["front", "back"]
    change = moved(bench, found)
    assert change["front.centre"] == pytest.approx(-10)
    assert change["back.centre"] == pytest.approx(-10, abs=0.05)


def test_a_chalked_armhole_is_hollowed_at_its_place(bench: Bench) -> None:
    found = fit(bench, "blouse", "chalked front.armhole=5mm@50%")
    (correction,) = found.corrections
    assert correction.change.kind == "scoop-armhole"
    assert correction.values["at"] == "50% from shoulder-point"
    lower = fit(bench, "blouse", "chalked front.armhole=5mm@60mm from underarm")
    assert lower.corrections[0].values["at"] == "60mm from underarm"
    assert moved(bench, found)["front.armhole"] > 0


def test_a_shoulder_line_chalked_on_the_back_lies_further_back(bench: Bench) -> None:
    forward = fit(bench, "blouse", "chalked front.shoulder=8mm").corrections[0]
    back = fit(bench, "blouse", "chalked back.shoulder=8mm").corrections[0]
    assert forward.values == {"by": "8mm"}
    assert back.values == {"by": "-8mm"}


def test_front_and_back_pinned_alike_are_one_correction(bench: Bench) -> None:
    both = fit(bench, "blouse", "pinned front.side=8mm", "pinned back.side=8mm")
    (correction,) = both.corrections
    assert correction.values == {"by": "-32mm"}
    assert len(correction.pins) == 2
    through = fit(bench, "blouse", "pinned front.side=8mm", "pinned side-seam=16mm")
    assert through.corrections[0].values == {"by": "-32mm"}


def test_front_and_back_pinned_unlike_are_refused(bench: Bench) -> None:
    with refusing(BadParameter, match=r"front\.side=8mm and back\.side=4mm: add-ease"):
        fit(bench, "blouse", "pinned front.side=8mm", "pinned back.side=4mm")
    with refusing(BadParameter, match="one of them"):
        fit(bench, "blouse", "pinned front.side=8mm", "let-out back.side=8mm")


def test_folds_into_one_dart_add_up(bench: Bench) -> None:
    found = fit(bench, "blouse", "pinned front.armhole=5mm@50%", "pinned front.bust=10mm")
    (correction,) = found.corrections
    assert correction.values["by"] == "15mm"


def test_corrections_come_in_fitting_order_and_the_cap_is_fitted_last(bench: Bench) -> None:
    texts = ("pinned sleeve.cap=4mm", "pinned front.side=8mm", "pinned front.shoulder=6mm")
    found = fit(bench, "blouse", *texts)
    kinds_made = [each.change.kind for each in found.corrections]
    assert kinds_made == ["shorten-shoulder", "add-ease", "refit-cap"]
    last = found.corrections[-1]
    ease = next(each for each in last.effects if each.measure == "sleeve.cap-ease")
    assert ease.after_mm - ease.before_mm == pytest.approx(-4, abs=0.002)


def test_the_block_is_corrected_where_the_fault_lies(bench: Bench) -> None:
    here = fit(bench, "blouse", "pinned front.side=8mm")
    assert here.node == "blouse"
    assert here.corrections[0].is_above
    at_easy = fit(bench, "blouse", "pinned front.shoulder=6mm", on="easy")
    assert at_easy.node == "easy"
    assert not at_easy.corrections[0].is_above
    for on in ("block", "village"):
        above = fit(bench, "blouse", "pinned front.shoulder=6mm", on=on)
        assert above.node == "village"
        assert not above.corrections[0].is_above
        assert moved(bench, above)["front.shoulder"] == pytest.approx(-6)


def test_only_a_node_the_pieces_come_from_can_be_corrected_instead(bench: Bench) -> None:
    with pytest.raises(NoSuchName, match="easy, village"):
        fit(bench, "blouse", "pinned front.side=8mm", on="own")
    with pytest.raises(NoSuchNode, match="easy"):
        fit(bench, "blouse", "pinned front.side=8mm", on="eas")


def test_pieces_of_two_blocks_want_the_block_named() -> None:
    parents = [ParentRecord("village", ("front", "back")), ParentRecord("town", ("sleeve",))]
    two = Bench(state(block(), block("town"), child("mixed", of=parents)))
    texts = ("pinned front.side=4mm", "pinned biceps=8mm")
    with refusing(BadParameter, match="village and town"):
        fit(two, "mixed", *texts, on="block")
    assert fit(two, "mixed", "pinned biceps=8mm", on="block").node == "town"


@pytest.mark.parametrize(
    ("text", "error", "says"),
    [
        ("pinned back.armhole=5mm", CannotStep, "no dart opens on back.armhole"),
        ("pinned front.neck=5mm", CannotStep, "rotate-dart"),
        ("pinned front.centre=5mm", CannotStep, "no dart opens"),
        ("chalked front.side=5mm", CannotStep, "redraw-edge"),
        ("pinned front.sid=5mm", NoSuchName, "front.side"),
        ("pinned sleeve.cap=5mm@50%", BadParameter, "takes no place"),
        ("pinned front.bust=5mm@50%", BadParameter, "is no edge"),
        ("chalked front.armhole=5mm@130%", BadPosition, "100%"),
        ("chalked front.armhole=5mm@900mm", BadPosition, "only"),
        ("pinned front.side", BadParameter, "front.side=8mm"),
        ("pinned front.side=", BadParameter, "front.side=8mm"),
        ("pinned front.side=much", BadLength, "much"),
        ("pinned front.side=0mm", BadParameter, "above 0"),
        ("pinned front.side=-5mm", BadParameter, "let-out"),
        ("pinned front.shoulder=140mm", CannotStep, "as far as"),
        ("pinned front.shoulder=160mm", BadParameter, "between"),
    ],
)
def test_what_cannot_be_is_refused_in_one_sentence(
    bench: Bench, text: str, error: type[Exception], says: str
) -> None:
    with pytest.raises(error) as caught:
        fit(bench, "blouse", text)
    assert says in worded_error(caught.value)
    assert "\n" not in worded_error(caught.value)


def test_a_sleeve_that_is_not_there_is_no_place(bench: Bench) -> None:
    with pytest.raises(NoSuchName, match="vest"):
        fit(bench, "vest", "pinned sleeve.cap=5mm")
    with refusing(BadParameter, match="at least one place"):
        fit_from(bench.evaluator, "vest", [])


@SETTINGS
@given(
    how=st.sampled_from(How),
    text=st.one_of(
        st.text(max_size=30),
        st.from_regex(r"[a-z.-]{1,20}=[0-9.]{1,4}(mm|cm|in)?(@[0-9]{1,3}%)?", fullmatch=True),
    ),
)
def test_whatever_is_written_only_declared_errors_escape(bench: Bench, how: How, text: str) -> None:
    with suppress(GeometryError, WardrobeError):
        fit_from(bench.evaluator, "blouse", [Pin.read(how, text, Unit.CENTIMETRE)])


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: f"{rule.how}-{rule.kind}")
def test_every_rule_names_a_kind_its_parameters_and_a_reason(rule: Any) -> None:
    known = {each.name for each in parameters(kinds()[rule.kind])}
    assert {*rule.factors, *rule.values} <= known
    assert not rule.at or rule.at in known
    assert rule.reason
    assert not rule.reason.endswith(".")


@pytest.mark.parametrize("how", How)
def test_every_place_offered_can_be_given(bench: Bench, how: How) -> None:
    draft = bench.evaluator.draft("blouse")
    places = places_of(draft, how)
    assert {place for place, _, _ in concrete(draft, how)} <= set(places)
    for place in places:
        where = "@40%" if place.endswith("hem") and not place.startswith("sleeve") else ""
        assert fit(bench, "blouse", f"{how.value} {place}=3mm{where}").corrections


def test_a_rule_is_stated_once_for_a_place_and_a_way(bench: Bench) -> None:
    draft = bench.evaluator.draft("blouse")
    for how in (How.PINNED, How.CHALKED):
        stated: dict[str, set[str]] = {}
        for place, rule, _ in concrete(draft, how):
            stated.setdefault(place, set()).add(rule.reason)
        assert all(len(reasons) == 1 for reasons in stated.values())
