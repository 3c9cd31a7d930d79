"""trueup trace of drawings by others: proposed, corrected, taken; and then a block like any."""

import tomllib
from dataclasses import replace
from pathlib import Path
from typing import Any

import ezdxf
import pytest
from ezdxf.math import Vec3

from tests.cli.commands.begin.drawn import drawn
from trueup.geometry.pieces.draft import Draft
from trueup.lineage.wardrobe import Wardrobe

CORRECTIONS = {
    "shorten-shoulder": ("--by", "6mm"),
    "slope-shoulder": ("--by", "5mm"),
    "lower-neck": ("--piece", "front", "--by", "6mm"),
    "scoop-armhole": ("--piece", "front", "--by", "6mm"),
    "lower-armhole": ("--by", "5mm"),
    "deepen-dart": ("--dart", "front.waist", "--by", "6mm"),
    "add-ease": ("--by", "12mm"),
    "widen-neck": ("--by", "4mm"),
    "shift-shoulder": ("--by", "4mm"),
}
STYLES = (
    ("rotate-dart", "--dart", "front.bust", "--edge", "front.side", "--at", "60mm from underarm"),
    ("lower-neck", "--piece", "front", "--by", "20mm"),
    ("widen-sleeve", "--by", "15mm"),
)


def draft_of(trueup: Any, node: str) -> Draft:
    with Wardrobe.open(trueup.folder) as wardrobe:
        return wardrobe.evaluator.draft(node)


@pytest.fixture
def twins(trueup: Any, tmp_path: Path) -> Any:
    """Give a wardrobe a block that was drawn elsewhere like its own, all stated that was said."""
    file, names = tmp_path / "paper.svg", tmp_path / "names.toml"
    file.write_bytes(drawn(draft_of(trueup, "village")))
    trueup.made("trace", str(file), "twin", "--write-names", str(names))
    text = names.read_text("utf-8")
    # What no line shows: how far the tips of two darts stop short of what they aim at.
    front = '[piece.setbacks]\nwaist-side = "60mm"\nwaist = "25mm"\n[piece.darts]'
    names.write_text(text.replace("[piece.darts]", front, 1), "utf-8")
    trueup.made("trace", str(file), "twin", "--names", str(names))
    for block in ("village", "twin"):
        child = f"{block}-child"
        trueup.made("derive", child, "--from", block)
        for style in STYLES:
            answer = trueup("style", child, *style)
            assert answer.code in (0, 1), answer.err
    return trueup


def told(trueup: Any, block: str, kind: str) -> Any:
    """Return what a correction comes to at a block and at its child, without their names."""
    answer = trueup("correct", block, kind, *CORRECTIONS[kind], "--preview", "--json")
    assert answer.code == 0, answer.err
    document = answer.document
    own = sorted((c["kind"], c["piece"], c["edge"]) for c in document["conflicts"])
    (child,) = [each for each in document["patterns"] if each["name"] == f"{block}-child"]
    theirs = sorted((c["kind"], c["piece"], c["edge"]) for c in child["conflicts"])
    amounts = {m["name"]: (m["wanted_mm"], m["got_mm"]) for m in child["measures"]}
    return own, child["verdict"], theirs, amounts


def test_a_drawn_twin_is_the_same_block(twins: Any) -> None:
    mine, theirs = draft_of(twins, "village"), draft_of(twins, "twin")
    assert mine.piece_names == theirs.piece_names
    assert (mine.seams, mine.joins) == (theirs.seams, theirs.joins)
    for piece in mine.pieces:
        twin = theirs.piece(piece.name)
        assert {*piece.dart_names} == {*twin.dart_names}
        assert {level.name for level in piece.levels} == {level.name for level in twin.levels}
        assert {n.name for n in piece.notches} == {n.name for n in twin.notches}
        assert (piece.fold, twin.grainline is None) == (twin.fold, False)
        for edge in piece.edges:
            assert twin.edge(edge.name).length == pytest.approx(edge.length, abs=0.01)
    assert "twin is true" in twins.made("check", "twin").out


@pytest.mark.parametrize("kind", CORRECTIONS)
def test_every_core_correction_has_the_same_verdicts_on_a_drawn_twin(twins: Any, kind: str) -> None:
    *own, amounts = told(twins, "village", kind)
    *twin, drawn_amounts = told(twins, "twin", kind)
    assert twin == own
    assert drawn_amounts.keys() == amounts.keys()
    for name, (wanted, got) in amounts.items():
        assert drawn_amounts[name] == pytest.approx((wanted, got), abs=0.05)


def test_what_is_proposed_is_shown_and_nothing_is_written(trueup: Any, tmp_path: Path) -> None:
    file = tmp_path / "paper.svg"
    file.write_bytes(drawn(draft_of(trueup, "village")))
    before = trueup.contents()
    answer = trueup("trace", str(file), "paper")
    assert answer.code == 2
    assert "front.dart.bust" in answer.out
    assert "side-seam" in answer.out
    assert "nothing is recorded" in answer.err
    document = trueup("trace", str(file), "paper", "--json").document
    assert document["proposed"]
    assert {each["name"] for each in document["seams"]} >= {"side-seam", "armhole-seam"}
    assert trueup.contents() == before
    picture = tmp_path / "numbers.svg"
    trueup("trace", str(file), "paper", "--picture", str(picture))
    assert "number-1" in picture.read_text("utf-8")
    assert trueup.contents() == before


def test_what_a_piece_is_taken_for_is_told_and_what_nothing_tells_is_asked(
    trueup: Any, tmp_path: Path
) -> None:
    body = ("--waist", "72cm", "--hip", "96cm", "--hip-depth", "20.6cm", "--skirt-length", "60cm")
    trueup.made("draft", "skirt", "--system", "straight-skirt", *body)
    front, back = draft_of(trueup, "skirt").pieces
    file = tmp_path / "paper.svg"

    def bare(*pieces: Any) -> bytes:
        """Return a drawing of pieces on which nothing is written, the second upside down."""
        named = [replace(piece, name=f"path{k}", levels=()) for k, piece in enumerate(pieces)]
        return drawn(Draft(tuple(named)), turned={"path1": 180})

    file.write_bytes(bare(front, back))
    told = trueup("trace", str(file), "paper").out
    assert "beside the other's" in told
    assert "upside down" in told
    assert "No line shows hip of skirt-front and skirt-back" in told
    file.write_bytes(bare(back, back))
    answer = trueup("trace", str(file), "paper")
    assert "piece-1 and piece-2 look like a skirt" in answer.out
    assert "name each, as --name piece-1=skirt-front" in answer.out
    document = trueup("trace", str(file), "paper", "--json").document
    assert [(each["named_by"], each["turned_degrees"]) for each in document["pieces"]] == [
        ("nothing", 0.0),
        ("nothing", 180.0),
    ]


def test_a_line_is_named_by_its_number(trueup: Any, tmp_path: Path) -> None:
    file = tmp_path / "paper.svg"
    file.write_bytes(drawn(draft_of(trueup, "village")))
    lines = trueup("trace", str(file), "paper", "--json").document["lines"]
    bust = next(each["line"] for each in lines if each["taken_for"] == "front.dart.bust")
    trueup.made(
        *("trace", str(file), "paper", "--as-proposed"),
        *("--name", f"{bust}=front.dart.chest", "--name", "sleeve=arm"),
    )
    found = draft_of(trueup, "paper")
    assert "chest" in found.piece("front").dart_names
    assert found.has_piece("arm")
    assert trueup("check", "paper").code == 1  # nothing is said of how the arm is sewn


def test_the_file_of_names_is_read_as_it_is_written(trueup: Any, tmp_path: Path) -> None:
    file, names = tmp_path / "paper.svg", tmp_path / "names.toml"
    file.write_bytes(drawn(draft_of(trueup, "village")))
    trueup("trace", str(file), "paper", "--write-names", str(names))
    stated = tomllib.loads(names.read_text("utf-8"))
    assert [piece["name"] for piece in stated["piece"]] == ["front", "back", "sleeve"]
    trueup.made("trace", str(file), "one", "--names", str(names))
    trueup.made("trace", str(file), "other", "--as-proposed")
    assert draft_of(trueup, "one") == draft_of(trueup, "other")


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ("neck = [1]", "neck = [99]", "there is no line 99"),
        ("neck = [1]", "neck = [2]", "named"),
        ("neck = [1]", "", "nothing says what 1 is"),
        ("neck = [1]", "neck = [1, 20]", "not of one outline|named"),
        ('= "along hem"', '= "somewhere"', "is no level"),
        ("fold =", "folded =", "folded"),
        ('name = "side-seam"', 'name = "Side Seam"', "no plain word"),
        ('"front.side"', '"front.flank"', "flank"),
        ("0mm to 0mm", "9mm to 0mm", "from more to less"),
        ("0mm to 0mm", "a lot", "a lot"),
        ("[[piece]]", "[[piece", "line"),
    ],
)
def test_a_file_of_names_that_contradicts_is_told_in_a_sentence(
    trueup: Any, tmp_path: Path, old: str, new: str, told: str
) -> None:
    file, names = tmp_path / "paper.svg", tmp_path / "names.toml"
    file.write_bytes(drawn(draft_of(trueup, "village")))
    trueup("trace", str(file), "paper", "--write-names", str(names))
    before, text = trueup.contents(), names.read_text("utf-8")
    assert old in text
    names.write_text(text.replace(old, new, 1), "utf-8")
    answer = trueup("trace", str(file), "paper", "--names", str(names))
    assert answer.code == 2
    assert len(answer.err.strip().splitlines()) == 1
    assert any(word in answer.err for word in told.split("|")), answer.err
    assert trueup.contents() == before


SVG = '<svg xmlns="http://www.w3.org/2000/svg" width="900mm" height="900mm" viewBox="0 0 900 900">'
PIECE = "M 20 20 h 300 v 400 h -300"
BAD = {
    "open": (f'<path d="{PIECE} v -396.8"/>', "3.2 mm apart"),
    "open wide": ('<path d="M 20 20 h 300 v 400"/>', "no closed outline"),
    "crossing": ('<path d="M 20 20 L 320 420 V 20 L 20 420 z"/>', "crosses itself at"),
    "on top": (
        f'<path d="{PIECE} z"/><path d="M 150 150 h 300 v 400 h -300 z"/>',
        "on top of line-1",
    ),
    "tiny": ('<path d="M 1 1 h 3 v 4 h -3 z"/>', "say how long one of its lines is|no closed"),
    "no lines": ("<text x='9' y='9'>front</text>", "no closed outline"),
    "mirrored": (
        f'<g transform="translate(900,0) scale(-1,1)"><path d="{PIECE} z"/>'
        "<text x='90' y='90'>front</text></g>",
        "mirror",
    ),
    "nan": ('<path d="M nan 20 h 300 v 400 z"/>', "no line, curve or number"),
    "outside": (f'<image href="https://example.org/x"/><path d="{PIECE} z"/>', "outside the file"),
}


@pytest.mark.parametrize("case", BAD)
def test_bad_drawings_are_told_where_and_what_to_do(trueup: Any, tmp_path: Path, case: str) -> None:
    inside, told = BAD[case]
    file = tmp_path / "bad.svg"
    file.write_text(f"{SVG}{inside}</svg>", "utf-8")
    before = trueup.contents()
    answer = trueup("trace", str(file), "paper", "--as-proposed")
    assert answer.code == 2
    assert len(answer.err.strip().splitlines()) == 1, answer.err
    assert any(word in answer.err for word in told.split("|")), answer.err
    assert trueup.contents() == before


@pytest.mark.parametrize("node", ["village", "blouse", "own", "vest"])
def test_our_own_dxf_comes_back_as_the_same_block(trueup: Any, tmp_path: Path, node: str) -> None:
    file = tmp_path / "out.dxf"
    trueup.made("export", node, str(file))
    trueup.made("trace", str(file), "again")
    assert draft_of(trueup, "again") == draft_of(trueup, node)


def test_a_dxf_of_ours_that_was_redrawn_is_looked_over(trueup: Any, tmp_path: Path) -> None:
    file = tmp_path / "out.dxf"
    trueup.made("export", "village", str(file))
    document = ezdxf.readfile(file)
    for polyline in document.blocks.get("sleeve").query("POLYLINE"):
        for vertex in polyline.vertices:
            if vertex.dxf.location.y < -300:
                vertex.dxf.location = vertex.dxf.location + Vec3(0, -20)
    document.save()
    assert trueup("trace", str(file), "again").code == 2
    trueup.made("trace", str(file), "again", "--as-proposed")
    before, after = draft_of(trueup, "village"), draft_of(trueup, "again")
    assert after.edge("sleeve", "back-seam").length == pytest.approx(
        before.edge("sleeve", "back-seam").length + 20, abs=0.05
    )
    assert after.edge("front", "side").length == pytest.approx(
        before.edge("front", "side").length, abs=0.05
    )


def test_a_seam_that_was_not_stated_is_stated_later_as_a_step(trueup: Any, tmp_path: Path) -> None:
    file, names = tmp_path / "paper.svg", tmp_path / "names.toml"
    file.write_bytes(drawn(draft_of(trueup, "village")))
    trueup("trace", str(file), "paper", "--write-names", str(names))
    text = names.read_text("utf-8")
    without = text[: text.index("[[seam]]")] + text[text.index("[[join]]") :]
    names.write_text(without, "utf-8")
    answer = trueup.made("trace", str(file), "paper", "--names", str(names))
    assert "no seam of front, back, sleeve" in answer.err
    assert "cannot be called true" in trueup("check", "paper").out
    for line, to, name in (
        ("back.shoulder", "front.shoulder", "shoulder-seam"),
        ("front.side", "back.side", "side-seam"),
        ("sleeve.cap", "front.armhole back.armhole", "armhole-seam"),
        ("sleeve.back-seam", "sleeve.front-seam", "sleeve-seam"),
    ):
        ease = ("--low", "25mm", "--high", "45mm") if name == "armhole-seam" else ()
        trueup.made(
            *("correct", "paper", "sew-together", "--line", line, "--to", to),
            *("--name", name, *ease, "--why", "it is sewn so"),
        )
    assert "paper is true" in trueup.made("check", "paper").out
    assert "it is sewn so" in trueup.made("history", "paper").out
