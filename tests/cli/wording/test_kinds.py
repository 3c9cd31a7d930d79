"""Kinds of change in the trade's words, as they are told without loading what carries them out."""

import pytest

from trueup.cli.render.steps import what_and_amounts
from trueup.cli.wording.kinds import (
    kind_in_words,
    made_in_words,
    note_in_words,
    subject_in_words,
)
from trueup.geometry.changes import kinds
from trueup.geometry.units import Unit
from trueup.lineage.files.records import Role, StepRecord


@pytest.mark.parametrize("name", kinds())
def test_a_kind_is_said_as_the_kind_itself_says_it(name):
    known = kinds()[name]
    said = known.either_way or (known.phrases[0] if known.phrases else name.replace("-", " "))
    assert kind_in_words(name) == said


@pytest.mark.parametrize("name", kinds())
def test_a_kind_with_its_amount_is_said_by_the_sign_of_the_amount(name):
    phrases = kinds()[name].phrases
    plainly, back = made_in_words(name, "2cm"), made_in_words(name, "-2cm")
    if phrases:
        assert plainly == (phrases[0], "2cm")
    assert back == ((phrases[1], "2cm") if len(phrases) > 1 else (plainly[0], "-2cm"))


def test_a_kind_that_comes_several_times_is_said_once():
    subject = "Style village: seam-allowance, seam-allowance, lower-neck, seam-allowance"
    assert subject_in_words(subject) == (
        "Style village: set the seam allowance (2 times), lower the neck, set the seam allowance"
    )


@pytest.mark.parametrize(
    ("subject", "words"),
    [
        ("Correct village: scoop-armhole", "Correct village: hollow the armhole"),
        (
            "Correct village: scoop-armhole, refit-cap, mends note-bde10663",
            "Correct village: hollow the armhole, refit the sleeve cap, "
            "mends a fit note (note-bde10663)",
        ),
        (
            "Correct village: lower-neck, mends note-a and note-b",
            "Correct village: lower the neck, mends 2 fit notes (note-a, note-b)",
        ),
        (
            "Decide seam-1a2b on village: refit-cap",
            "Decide on village: refit the sleeve cap (seam-1a2b)",
        ),
        (
            "Undo: Decide doubled-1a2b on vest: hold",
            "Undo: Decide on vest: stay on the parent as it was (doubled-1a2b)",
        ),
        ("Promote from own to village: lower-neck", "Promote from own to village: lower the neck"),
        ("Undo: Style blouse: cut-apart", "Undo: Style blouse: cut apart along a style line"),
        ("Note on tea-blouse: armhole-binds", "Note on tea-blouse: armhole-binds"),
        (
            "Note on tea-blouse: side-seam-puckers at front.side",
            "Note on tea-blouse: front side seam puckers",
        ),
        ("Undo: Note on gown: hip-tight at hip", "Undo: Note on gown: hip tight"),
        (
            "Mended on tea-blouse: armhole-binds at front.armhole, by 25a6fcee of blouse",
            "Mended on tea-blouse: front armhole binds, by 25a6fcee of blouse",
        ),
        ("Derive the pattern scoop-armhole from village", None),
    ],
)
def test_what_was_recorded_is_told_by_its_kinds(subject, words):
    assert subject_in_words(subject) == (words or subject)


def test_an_own_step_that_is_noted_is_told_as_a_maker_says_it():
    assert note_in_words("its own redraw-edge overwrote it; lost above, at easy") == (
        'its own step "redraw the edge" overwrote it; lost above, at easy'
    )
    assert note_in_words("stays on an earlier version of its parent").startswith("stays on")


def test_what_a_step_was_made_with_is_told_in_the_unit_of_the_wardrobe():
    values = {"piece": "front", "by": "20mm", "eased": True, "at": "35% from shoulder-point"}
    step = StepRecord("a", Role.STYLE, "scoop-armhole", 2, values)
    assert what_and_amounts(step, Unit.CENTIMETRE) == (
        "hollow the armhole",
        "piece front, by 2 cm, eased, at 35% of the way from the shoulder point",
    )
    bound = StepRecord("a", Role.STYLE, "scoop-armhole", 2, {"by": "bust/8 - 1cm"})
    assert what_and_amounts(bound, Unit.INCH) == ("hollow the armhole", "by bust/8 - 1cm")


def test_a_step_whose_amount_is_negative_is_told_by_the_word_for_it():
    step = StepRecord("a", Role.STYLE, "slope-shoulder", 3, {"by": "-8mm"})
    assert what_and_amounts(step, Unit.MILLIMETRE) == ("raise the shoulder point", "by 8 mm")
    at_neck = StepRecord("a", Role.STYLE, "mark-notch", 1, {"at": "0mm from neck-point"})
    assert what_and_amounts(at_neck, Unit.MILLIMETRE)[1] == "right at the neck point"
