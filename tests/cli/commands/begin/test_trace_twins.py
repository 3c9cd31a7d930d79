"""A traced block, its seams stated, goes through the corrections as its drafted twin does.

Bodice with sleeve, skirt and trousers: each is drafted, drawn as a maker draws it, some pieces
lying on their side or upside down, and traced. Below both stand the same two patterns; a correction
has to come to the same verdicts, amounts and conflicts at all of them.
"""

import shlex
from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import pytest

from tests.cli.commands.begin.drawn import drawn
from tests.cli.conftest import Trueup, run
from trueup.geometry.changes.base import kinds
from trueup.geometry.pieces.draft import Draft
from trueup.lineage.wardrobe import Wardrobe

Step = str
"""A kind of change and its options, as typed."""


@dataclass(frozen=True)
class Twins:
    """A block and two styles of it, what is done to it, and how its pieces lie on the page.

    What is done `before` is a correction of both blocks that stays.
    """

    system: str
    body: str
    styles: dict[str, tuple[Step, ...]]
    corrections: tuple[Step, ...]
    before: tuple[Step, ...] = ()
    turned: dict[str, int] = field(default_factory=dict)
    setbacks: str = ""


BODICE = Twins(
    "bust-proportion",
    "--bust 88cm --waist 68cm --back-length 38cm --sleeve-length 54cm",
    {
        "blouse": (
            'rotate-dart --dart front.bust --edge front.side --at "60mm from underarm"',
            "lower-neck --piece front --by 20mm",
            "widen-sleeve --by 15mm",
        ),
        "vest": (
            'redraw-edge --edge front.armhole --through "30%:24mm 70%:40mm"',
            "release-dart --dart front.waist-side",
            "raise-cap --by -15mm",
            "lengthen --by 120mm",
        ),
    },
    (
        "shorten-shoulder --by 6mm",
        "slope-shoulder --by 5mm",
        "shift-shoulder --by 4mm",
        "true-shoulder --piece front --by 3mm",
        "lower-neck --piece front --by 6mm",
        "lower-neck --piece back --by 4mm",
        "widen-neck --by 4mm",
        "shape-neck --piece front --shape v",
        "scoop-armhole --piece front --by 6mm",
        "scoop-armhole --piece back --by 5mm",
        "lower-armhole --by 5mm",
        "deepen-dart --dart front.waist --by 6mm",
        "deepen-dart --dart back.waist --by 5mm",
        "deepen-dart --dart front.bust --by 5mm",
        'rotate-dart --dart front.bust --edge front.shoulder --at "50% from neck-point"',
        "split-dart --dart front.bust --edge front.shoulder "
        '--at "50% from neck-point" --share 0.4 --name second',
        "join-darts --dart front.waist-side --other front.waist",
        "move-apex --dart front.waist --by 12mm",
        "release-dart --dart back.waist-side",
        "change-bust --dart front.bust --by 10mm",
        "round-back --by 8mm",
        "hollow-chest --by 6mm",
        "sway-back --by 8mm",
        "add-ease --by 12mm",
        "taper-side --level waist --by 5mm",
        "true-hem --piece front --by 4mm",
        "lengthen --piece bodice --by 20mm",
        "lengthen --piece sleeve --by 15mm",
        "lengthen-at --level waist --below -60mm --piece bodice --by 8mm",
        "flare-hem --by 20mm",
        'redraw-edge --edge back.armhole --through "30%:20mm 70%:36mm"',
        "widen-sleeve --by 10mm",
        "taper-sleeve --to 210mm",
        "refit-cap --to 38mm",
        "refit-cap --to 30mm --how height",
        "raise-cap --by 6mm",
        "pitch-sleeve --by 5mm",
        "full-arm --by 10mm",
    ),
    turned={"back": 180, "sleeve": 90},
    setbacks='[piece.setbacks]\nwaist-side = "60mm"\nwaist = "25mm"\n[piece.darts]',
)

SKIRT = Twins(
    "straight-skirt",
    "--waist 72cm --hip 96cm --hip-depth 20.6cm --skirt-length 60cm",
    {
        "flared": (
            "dart-to-flare --dart skirt-front.waist",
            "lengthen --by 80mm",
        ),
        "pencil": (
            "taper-side --level hem --by 15mm",
            "join-darts --dart skirt-back.second --other skirt-back.waist",
        ),
    },
    (
        "deepen-dart --dart skirt-back.waist --by 6mm",
        "deepen-dart --dart skirt-front.waist --by 5mm",
        "rotate-dart --dart skirt-front.waist --edge skirt-front.waist "
        '--at "70% from waist-centre"',
        "split-dart --dart skirt-front.waist --edge skirt-front.waist "
        '--at "84% from waist-centre" --share 0.5 --name third',
        "join-darts --dart skirt-back.second --other skirt-back.waist",
        "move-apex --dart skirt-back.waist --by 12mm",
        "release-dart --dart skirt-front.waist",
        "add-ease --by 12mm",
        "taper-side --level hip --by -6mm",
        "taper-side --level waist --by 4mm",
        "taper-side --level hem --by 10mm",
        "flare-hem --by 30mm --slashes 2",
        "lengthen --by 20mm",
        "lengthen-at --level hip --below 60mm --by 10mm",
        "full-abdomen --by 10mm",
        "high-hip --by 6mm --side left",
        "sway-back --by 6mm",
        'redraw-edge --edge skirt-front.side --through "30%:6mm 70%:4mm"',
    ),
    before=(
        "split-dart --dart skirt-back.waist --edge skirt-back.waist "
        '--at "82% from waist-centre" --share 0.4 --name second',
    ),
    turned={"skirt-front": 90, "skirt-back": 180},
)

TROUSERS = Twins(
    "trousers",
    "--waist 72cm --hip 96cm --hip-depth 20.6cm --body-rise 27cm --inside-leg 76cm "
    "--trouser-hem 40cm",
    {
        "wide": (
            "shape-leg --by 30mm",
            "lengthen --by 20mm",
        ),
        "low": (
            "deepen-crotch --by 12mm",
            "release-dart --dart trouser-back.waist-side",
        ),
    },
    (
        "deepen-dart --dart trouser-back.waist --by 5mm",
        "deepen-dart --dart trouser-front.waist --by 4mm",
        "join-darts --dart trouser-back.waist --other trouser-back.waist-side",
        "move-apex --dart trouser-back.waist --by 10mm",
        "release-dart --dart trouser-front.waist",
        "add-ease --by 12mm",
        "taper-side --level hip --by -5mm",
        "taper-side --level waist --by 4mm",
        "lengthen --by 20mm",
        "lengthen-at --level knee --below 60mm --by 10mm",
        "deepen-crotch --by 8mm",
        "extend-crotch --by 8mm",
        "shape-leg --by 12mm",
        "full-abdomen --by 10mm",
        "sway-back --by 6mm",
        'redraw-edge --edge trouser-front.side --through "30%:6mm 70%:4mm"',
    ),
    turned={"trouser-front": -90, "trouser-back": 180},
)

ALL = {"bodice": BODICE, "skirt": SKIRT, "trousers": TROUSERS}

CORE = (
    *("deepen-dart", "rotate-dart", "split-dart", "join-darts", "move-apex", "release-dart"),
    *("shorten-shoulder", "shift-shoulder", "slope-shoulder", "scoop-armhole", "lower-armhole"),
    *("true-hem", "refit-cap", "lower-neck", "widen-neck", "shape-neck", "add-ease", "taper-side"),
    *("flare-hem", "lengthen", "widen-sleeve", "redraw-edge", "raise-cap", "deepen-crotch"),
    *("extend-crotch", "shape-leg", "full-abdomen", "sway-back", "round-back", "change-bust"),
)


def draft_of(trueup: Trueup, node: str) -> Draft:
    with Wardrobe.open(trueup.folder) as wardrobe:
        return wardrobe.evaluator.draft(node)


@pytest.fixture(scope="module")
def made(tmp_path_factory: Any) -> Any:
    """Give a wardrobe of a name's twins, made once; previews leave it as it is."""
    folders: dict[str, Trueup] = {}

    def wardrobe(name: str) -> Trueup:
        if name not in folders:
            folders[name] = _made(tmp_path_factory.mktemp(name), ALL[name])
        return folders[name]

    return wardrobe


def _made(folder: Path, twins: Twins) -> Trueup:
    home = folder / "atelier"
    assert run("start", str(home), "--unit", "mm").code == 0
    trueup = Trueup(home)
    trueup.made("draft", "drafted", "--system", twins.system, *twins.body.split())
    file, names = folder / "paper.svg", folder / "names.toml"
    file.write_bytes(drawn(draft_of(trueup, "drafted"), turned=twins.turned))
    trueup.made("trace", str(file), "traced", "--write-names", str(names))
    # What no line shows: how far the tips of darts stop short of what they aim at.
    if twins.setbacks:
        text = names.read_text("utf-8")
        names.write_text(text.replace("[piece.darts]", twins.setbacks, 1), "utf-8")
    trueup.made("trace", str(file), "traced", "--names", str(names))
    for block in ("drafted", "traced"):
        for step in twins.before:
            trueup.made("correct", block, *shlex.split(step))
        for style, steps in twins.styles.items():
            trueup.made("derive", f"{block}-{style}", "--from", block)
            for step in steps:
                answer = trueup("style", f"{block}-{style}", *shlex.split(step))
                assert answer.code in (0, 1), answer.err
    return trueup


def told(trueup: Trueup, block: str, correction: Step) -> Any:
    """Return what a correction comes to at a block and at its patterns, without their names."""
    answer = trueup("correct", block, *shlex.split(correction), "--preview", "--json")
    if answer.code not in (0, 1):
        return answer.err.replace(block, "BLOCK"), {}
    document = answer.document
    verdicts: dict[str, Any] = {"": (None, _conflicts(document["conflicts"]))}
    amounts: dict[tuple[str, str], tuple[float, float]] = {}
    for each in document["patterns"]:
        name = each["name"].removeprefix(f"{block}-")
        verdicts[name] = each["verdict"], _conflicts(each["conflicts"])
        for measure in each["measures"]:
            amounts[name, measure["name"]] = (measure["wanted_mm"], measure["got_mm"])
    return verdicts, amounts


def _conflicts(conflicts: Sequence[Any]) -> list[Any]:
    return sorted((c["kind"], c["piece"] or "", c["edge"] or "") for c in conflicts)


@pytest.mark.parametrize("name", ALL)
def test_a_drawn_twin_is_the_same_block_whichever_way_up_it_lay(made: Any, name: str) -> None:
    trueup = made(name)
    mine, theirs = draft_of(trueup, "drafted"), draft_of(trueup, "traced")
    assert {*mine.piece_names} == {*theirs.piece_names}
    assert (mine.seams, mine.joins) == (theirs.seams, theirs.joins)
    for piece in mine.pieces:
        twin = theirs.piece(piece.name)
        assert {*piece.dart_names} == {*twin.dart_names}
        assert {level.name for level in piece.levels} == {level.name for level in twin.levels}
        assert {n.name for n in piece.notches} == {n.name for n in twin.notches}
        assert (piece.fold, twin.grainline is None) == (twin.fold, False)
        shift = piece.edges[0].start - twin.edge(piece.edges[0].name).start
        for edge in piece.edges:
            same = twin.edge(edge.name)
            assert same.length == pytest.approx(edge.length, abs=0.01)
            # It stands as the drafted one does, not only as long.
            assert abs(same.start + shift - edge.start) < 0.01
            assert abs(same.end + shift - edge.end) < 0.01
    assert trueup("check", "traced").out.replace("traced", "drafted") == (
        trueup("check", "drafted").out
    )


CASES = [(name, step) for name, twins in ALL.items() for step in twins.corrections]


@pytest.mark.parametrize(("name", "step"), CASES, ids=[f"{n} {s}" for n, s in CASES])
def test_every_core_correction_has_the_same_verdicts_on_a_drawn_twin(
    made: Any, name: str, step: Step
) -> None:
    trueup = made(name)
    own, amounts = told(trueup, "drafted", step)
    # What cannot be done on the one cannot be done on the other, for the same reason.
    assert isinstance(own, dict) or "cannot be done" in own, own
    twin, drawn_amounts = told(trueup, "traced", step)
    assert twin == own
    assert drawn_amounts.keys() == amounts.keys()
    for measure, (wanted, got) in amounts.items():
        assert drawn_amounts[measure] == pytest.approx((wanted, got), abs=0.05)


def test_every_core_kind_is_among_them() -> None:
    done = {step.split()[0] for _, step in CASES}
    assert done >= {*CORE}
    assert {*CORE} <= {*kinds()}
