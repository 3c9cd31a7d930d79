"""What a conflict is about in one clause: right line, right amount, right tense, for every kind."""

import re

import pytest

from trueup.cli.render.matters import conflict_title, matter
from trueup.cli.wording.matters import MATTERS
from trueup.cli.wording.seen import line_in_words
from trueup.cli.wording.words import worded
from trueup.geometry.said import said
from trueup.geometry.units import Unit
from trueup.lineage.files.records import (
    ConflictKind,
    ConflictRecord,
    ConflictState,
    Remedy,
    replace,
)

MM = Unit.MILLIMETRE
KINDS = ConflictKind


def record(kind: ConflictKind, piece: str, edge: str, code: str = "", **more) -> ConflictRecord:
    says = more.pop("says", "It is so.")
    return ConflictRecord("x-1", kind, "masquer", piece, edge, code or kind.value, says, **more)


def seam(after: float, low: float, high: float, excess: float, **more) -> ConflictRecord:
    more.setdefault("edge", "cap")
    piece = more.pop("piece", "sleeve")
    told = {"after_mm": after, "allowed_mm": (low, high), "excess_mm": excess}
    return record(KINDS.SEAM, piece, more.pop("edge"), "seam", **told, **more)


UNEVEN = said("seam-uneven", longer="back.side", shorter="front.side", by=14.0, tolerance=1.6)
KINK = said("kink-of-ends", first="sleeve.cap", second="sleeve.cap", corner="front-underarm",
            measured=175.9, right=180.0, slack=4.0)  # fmt: skip
BARELY_A_KINK = said("kink-of-ends", first="sleeve.cap", second="sleeve.cap",
                     corner="front-underarm", measured=175.96, right=180.0, slack=4.0)  # fmt: skip
DART_KINK = said("dart-kink", place="front.side", dart="front.bust", measured=6.5, allowed=4.0)
IN_PART = said("arrives-in-part", got=7.9, wanted=10.0, measure="front.armhole")
ANEW = said("drawn-anew", corrected="marta-block")


@pytest.mark.parametrize(
    ("conflict", "waits", "over"),
    [
        (
            seam(16.0, 25.0, 45.0, 9.0),
            "the sleeve cap holds 9 mm too little",
            "the sleeve cap held 9 mm too little",
        ),
        (
            seam(50.0, 25.0, 45.0, 5.0),
            "the sleeve cap holds 5 mm too much",
            "the sleeve cap held 5 mm too much",
        ),
        (
            seam(-2.6, 10.0, 18.0, 12.6, section="front"),
            "the front part of the sleeve cap holds 12.6 mm too little",
            "the front part of the sleeve cap held 12.6 mm too little",
        ),
        (
            seam(-14.0, 0.0, 0.0, 12.4, piece="front", edge="side", says=UNEVEN),
            "the back side seam is 14 mm longer than the front side seam",
            "the back side seam was 14 mm longer than the front side seam",
        ),
        (
            seam(-14.0, 0.0, 0.0, 12.4, piece="front", edge="side"),
            "the front side seam is 12.4 mm too short for what it is sewn to",
            "the front side seam was 12.4 mm too short for what it is sewn to",
        ),
        (
            record(KINDS.SHAPE, "front", "armhole", "kink", after_mm=192.0,
                   allowed_mm=(177.0, 183.0), excess_mm=9.0),
            "the front armhole does not run on smoothly: it is 12.0 degrees off",
            "the front armhole did not run on smoothly: it was 12.0 degrees off",
        ),
        (
            record(KINDS.SHAPE, "sleeve", "cap", "kink", says=KINK, allowed_mm=(176.0, 184.0),
                   excess_mm=0.1),
            "the sleeve cap does not run on smoothly: it is 4.1 degrees off",
            "the sleeve cap did not run on smoothly: it was 4.1 degrees off",
        ),
        (
            record(KINDS.SHAPE, "sleeve", "cap", "kink", says=BARELY_A_KINK,
                   allowed_mm=(176.0, 184.0), excess_mm=0.04),
            "the sleeve cap does not run on smoothly: it is 4.04 degrees off",
            "the sleeve cap did not run on smoothly: it was 4.04 degrees off",
        ),
        (
            record(KINDS.SHAPE, "front", "side", "dart-kink", says=DART_KINK,
                   allowed_mm=(0.0, 4.0), excess_mm=2.5),
            "the front side seam turns where the dart is closed: it is 6.5 degrees off",
            "the front side seam turned where the dart is closed: it was 6.5 degrees off",
        ),
        (
            record(KINDS.BOTH_SHAPED, "front", "armhole", "both-shaped:s", says=ANEW,
                   corrected="marta-block"),
            "the correction of marta-block does not reach the front armhole",
            "the correction of marta-block did not reach the front armhole",
        ),
        (
            record(KINDS.BOTH_SHAPED, "front", "armhole", "both-shaped:s", says=IN_PART),
            "only 7.9 mm of 10 mm of a correction arrive at the front armhole",
            "only 7.9 mm of 10 mm of a correction arrived at the front armhole",
        ),
        (
            record(KINDS.DOUBLED, "front", "armhole", "doubled:s", says=said("doubled")),
            "the front armhole has the same correction twice",
            "the front armhole had the same correction twice",
        ),
    ],
)  # fmt: skip
def test_it_says_the_matter_as_it_waits_and_as_it_was(conflict, waits, over):
    assert matter(conflict, MM) == waits
    assert conflict_title(conflict, MM) == f"masquer: {waits}"
    assert matter(replace(conflict, state=ConflictState.ACCEPTED), MM) == waits
    assert matter(replace(conflict, state=ConflictState.SETTLED), MM) == over
    held = replace(conflict, state=ConflictState.ACCEPTED, remedies=(Remedy("follow"),))
    assert matter(held, MM) == over


def test_a_step_that_was_left_out_is_named_as_it_is_told():
    missing = record(KINDS.MISSING, "front", "bust", "missing:s", says=said("step-left-out"))
    assert matter(missing, MM, "rotate the bust dart") == (
        "a step no longer finds its place: rotate the bust dart"
    )


@pytest.mark.parametrize(
    "code",
    ["legs", "outline", "dart-outside", "dart-kink", "wave", "radius", "cloth-left", "narrow",
     "unstated", "two-makers:draft", "of-a-later-version"],
)  # fmt: skip
def test_every_code_has_a_clause_of_its_own_and_one_not_known_is_told_as_well(code):
    kind = KINDS.TWO_MAKERS if code.startswith("two") else KINDS.SHAPE
    for piece, edge in (("front", "bust"), ("front", ""), ("", "")):
        words = matter(record(kind, piece, edge, code), MM)
        assert not re.search(r"[\[\]{}|]|None|\s$|  ", words)
    assert ("does not hold" in words) is (code == "of-a-later-version")


def test_no_clause_is_told_alike_whether_it_waits_or_is_over():
    for words in MATTERS.values():
        assert re.search(r"\[[a-z]+\|[a-z]+\]", words), words


def test_names_are_said_as_they_are_spoken():
    assert line_in_words("left-front", "centre-front") == "the left front centre front"
    assert line_in_words("front", "side") == "the front side seam"


def test_what_is_barely_beyond_a_limit_does_not_read_as_the_limit():
    assert worded(BARELY_A_KINK, MM) == (
        "The two ends of sleeve.cap meet at 175.96 degrees where they are sewn together at the "
        "front underarm; 180.0 degrees would be right, and 4.0 degrees more or less are allowed."
    )
