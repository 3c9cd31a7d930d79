"""Kinds of change in the trade's words, as they are told without loading what carries them out."""

import pytest

from trueup.cli.render.steps import amounts
from trueup.cli.wording.kinds import kind_in_words, note_in_words, subject_in_words
from trueup.geometry.changes import kinds
from trueup.geometry.units import Unit
from trueup.lineage.files.records import Role, StepRecord


@pytest.mark.parametrize("name", kinds())
def test_a_kind_is_said_as_the_kind_itself_says_it(name):
    known = kinds()[name].phrases
    assert kind_in_words(name) == (known[0] if known else name.replace("-", " "))


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
        ("Undo: Style blouse: cut-apart", "Undo: Style blouse: cut apart"),
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
    values = {"piece": "front", "by": "20mm", "eased": True, "at": "35% from underarm"}
    step = StepRecord("a", Role.STYLE, "scoop-armhole", 2, values)
    assert amounts(step, Unit.CENTIMETRE) == "piece front, by 2 cm, eased, at 35% from underarm"
    bound = StepRecord("a", Role.STYLE, "scoop-armhole", 2, {"by": "bust/8 - 1cm"})
    assert amounts(bound, Unit.INCH) == "by bust/8 - 1cm"
