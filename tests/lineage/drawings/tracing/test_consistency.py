"""A drawing that says of its pieces what cannot be is refused in one sentence."""

import json
import re
from collections.abc import Callable
from typing import Any

import pytest

from tests.builders import block
from trueup.geometry.changes.cut_and_join.cut_apart import CutApart
from trueup.lineage.drawings.tracing.form import draft_form
from trueup.lineage.drawings.tracing.form_reading import read_form
from trueup.lineage.errors import BadRecord

CUT = CutApart(
    piece="front", begins="armhole", ends="hem", through="bust waist", line="princess"
).apply(block())

Wrong = Callable[[dict[str, Any]], object]

WRONG: dict[str, Wrong] = {
    "a part that is not there": lambda cut: cut["parts"].__setitem__(0, "collar"),
    "one part twice": lambda cut: cut["parts"].__setitem__(0, cut["parts"][1]),
    "a part of itself": lambda cut: cut["parts"].__setitem__(0, "front"),
    "a part without the line": lambda cut: cut["parts"].__setitem__(0, "back"),
    "a whole that is there": lambda cut: cut["whole"].__setitem__("name", "back"),
    "another line": lambda cut: cut.__setitem__("line", "yoke"),
    "no such dart": lambda cut: cut["begins"].__setitem__("dart", "fish"),
    "a dart of another edge": lambda cut: cut["begins"].__setitem__("dart", "waist"),
    "an end where it begins": lambda cut: cut.__setitem__("ends", dict(cut["begins"])),
    "an edge in neither part": lambda cut: cut["whole"]["edges"][0].__setitem__("name", "collar"),
}


@pytest.mark.parametrize("wrong", WRONG.values(), ids=WRONG)
def test_a_cut_that_cannot_be_is_refused(wrong: Wrong) -> None:
    form = json.loads(json.dumps(draft_form(CUT)))
    wrong(form["cuts"][0])
    with pytest.raises(BadRecord, match=re.escape("x.svg cannot be read: ")):
        read_form(json.dumps(form), "x.svg")


def test_a_piece_is_cut_once() -> None:
    form = json.loads(json.dumps(draft_form(CUT)))
    again = json.loads(json.dumps(form["cuts"][0]))
    again["whole"]["name"] = "another"
    form["cuts"].append(again)
    with pytest.raises(BadRecord):
        read_form(json.dumps(form), "x.svg")
