"""Changes in a maker's words."""

from typing import Any

import pytest

from trueup.geometry.changes import kind_named, kinds, parameters, read_change
from trueup.geometry.units import Unit

# What these need besides: one of two parameters.
ONE_OF = {
    "add-placket": ("width",),
    "deepen-dart": ("by",),
    "high-hip": ("side",),
    "label-piece": ("count",),
    "mark-hole": ("dart",),
    "open-front": ("extension",),
    "place-buttons": ("count",),
    "place-pocket": ("at",),
    "seam-allowance": ("edge",),
    "shape-hem": ("rise",),
    "state-level": ("at",),
}

OF_KINDS = {"rename-piece": {"to": "over-front"}, "state-level": {"at": "along hem"}}
"""What a kind takes where others of the same parameter take something else."""

SAMPLES: dict[str, Any] = {
    "piece": "front",
    "dart": "front.bust",
    "other": "front.waist",
    "edge": "front.side",
    "at": "40% from underarm",
    "ends_at": "40% from underarm",
    "through": "50%:6mm",
    "by": "12mm",
    "to": "30mm",
    "shape": "v",
    "name": "new",
    "above": "90mm",
    "count": 2,
    "gores": 2,
    "opening": "120mm",
    "width": "40mm",
    "height": "40mm",
    "below": "90mm",
    "share": 0.2,
}


def words(kind: str, unit: Unit = Unit.MILLIMETRE, **values: Any) -> str:
    return read_change(kind_named(kind), values, unit).in_words(unit)


def test_a_change_is_told_with_its_amount_and_its_place() -> None:
    said = words("scoop-armhole", piece="front", by="8mm", at="40% from underarm")
    assert said == "hollow the armhole of the front by 8 mm at 40% of the way from the underarm"


def test_a_negative_amount_has_a_word_of_its_own() -> None:
    assert words("shorten-shoulder", by="-5mm") == "lengthen the shoulder by 5 mm"
    assert words("lower-neck", piece="back", by="-5mm") == "raise the neck of the back by 5 mm"
    assert words("move-apex", dart="front.bust", by="-5mm").endswith("by -5 mm")


def test_amounts_are_told_in_the_unit_of_the_wardrobe() -> None:
    assert words("shorten-shoulder", Unit.INCH, by="1/4in") == "shorten the shoulder by 1/4 in"
    assert words("shorten-shoulder", Unit.CENTIMETRE, by="6mm") == "shorten the shoulder by 0.6 cm"


def test_what_is_left_to_the_kind_is_not_told() -> None:
    assert words("refit-cap") == "refit the sleeve cap"
    assert words("refit-cap", notch=True) == "move the crown notch of the sleeve cap"
    assert words("slope-shoulder", by="4mm") == "lower the shoulder point by 4 mm"
    told = words("slope-shoulder", by="4mm", with_underarm=True)
    assert told == "lower the shoulder point by 4 mm with underarm"


def test_a_dart_is_moved_to_an_edge() -> None:
    said = words("rotate-dart", dart="front.bust", edge="front.side", at="50mm from underarm")
    assert said == "turn the dart front.bust to front.side at 50 mm from the underarm"


@pytest.mark.parametrize("kind", kinds())
def test_every_kind_can_be_told(kind: str) -> None:
    needed = ONE_OF.get(kind, ())
    required = [each for each in parameters(kinds()[kind]) if each.required or each.name in needed]
    values = {
        each.name: each.choices[0] if each.choices else SAMPLES.get(each.name, "12mm")
        for each in required
    } | OF_KINDS.get(kind, {})
    said = words(kind, **values)
    assert said
    assert "None" not in said
    for each in required:
        if each.name in ("dart", "edge"):
            assert values[each.name] in said


CHOSEN = [
    (kind, each.name, choice)
    for kind, cls in kinds().items()
    for each in parameters(cls)
    for choice in (each.choices if each.of == "" and each.name != "side" else ())
]


@pytest.mark.parametrize(("kind", "name", "choice"), CHOSEN)
def test_what_is_chosen_is_told_without_the_name_of_its_option(
    kind: str, name: str, choice: str
) -> None:
    values = {
        each.name: each.choices[0] if each.choices else SAMPLES.get(each.name, "12mm")
        for each in parameters(kinds()[kind])
        if each.required or each.name in ONE_OF.get(kind, ())
    } | OF_KINDS.get(kind, {})
    said = words(kind, **{**values, name: choice})
    assert f"{name}: " not in said
    assert " a i" not in said


def test_a_choice_is_told_as_a_maker_puts_it() -> None:
    assert (
        words("refit-cap", to="32mm", how="width") == "refit the sleeve cap to 32 mm in its width"
    )
    said = words("shape-neck", piece="front", shape="v")
    assert said == "shape the neck line of the front as a V neck"
    assert words("taper-side", by="5mm", level="hip").endswith("by 5 mm at the hip")
    assert words("move-apex", dart="front.waist", by="5mm", tip="lower").endswith("its lower end")
