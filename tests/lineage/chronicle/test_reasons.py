"""The reason of a step and what was measured then, out of what its commit says."""

import pytest

from trueup.lineage.chronicle.reasons import measured, reason
from trueup.lineage.replay.verdicts import MeasureChange

BODY = "stands off the arm\n\nfront.shoulder 127.3 -> 121.3 mm\nsleeve.cap-ease 0.0 -> -4.1 mm"


def test_a_reason_and_what_was_measured_are_told_apart():
    assert reason(BODY) == "stands off the arm"
    assert measured(BODY) == (
        MeasureChange("front.shoulder", 127.3, 121.3),
        MeasureChange("sleeve.cap-ease", 0.0, -4.1),
    )


def test_measures_alone_have_no_reason():
    body = BODY.partition("\n\n")[2]
    assert (reason(body), len(measured(body))) == ("", 2)


@pytest.mark.parametrize(
    "words",
    [
        "",
        "let it out\n\nas seen on the second fitting",
        "a.b 1 -> 2 mm, I think",
        "first\n\nfront.side 1.2.3 -> 4 mm",
        "first\n\nfront.side 1.2 -> 4 mm\nand more",
    ],
)
def test_a_makers_own_words_stay_words(words: str):
    assert (reason(words), measured(words)) == (words, ())
