"""What was left out when a block was traced is said a year later, as steps, and then all holds."""

from pathlib import Path
from typing import Any

import pytest

from tests.cli.commands.begin.drawn import drawn
from tests.cli.commands.begin.test_trace_proposed import draft_of
from trueup.geometry.measuring.measures import measures
from trueup.geometry.pieces.draft import Draft

SAID_LATER = (
    ("close-fold", "--edge", "front.centre"),
    ("state-level", "--piece", "front", "--name", "bust", "--at", "at dart bust"),
    ("state-level", "--piece", "front", "--name", "waist", "--at", "along hem"),
    ("state-level", "--piece", "back", "--name", "bust", "--at", "at underarm"),
    ("state-level", "--piece", "back", "--name", "waist", "--at", "along hem"),
    ("state-level", "--piece", "sleeve", "--name", "biceps", "--at", "at front-underarm"),
    ("state-level", "--piece", "sleeve", "--name", "wrist", "--at", "along hem"),
    ("state-grain", "--edge", "front.centre"),
    ("state-grain", "--edge", "back.centre"),
    ("state-grain", "--edge", "sleeve.hem", "--degrees", "90"),
    ("state-join", "--edge", "front.armhole", "--to", "back.armhole", "--at", "shoulder-point"),
    ("state-join", "--edge", "front.armhole", "--to", "back.armhole", "--at", "underarm"),
    ("sew-together", "--line", "back.shoulder", "--to", "front.shoulder",
     "--name", "shoulder-seam"),
    ("sew-together", "--line", "front.side", "--to", "back.side", "--name", "side-seam"),
    ("sew-together", "--line", "sleeve.back-seam", "--to", "sleeve.front-seam",
     "--name", "sleeve-seam"),
    ("sew-together", "--line", "sleeve.cap", "--to", "front.armhole back.armhole",
     "--name", "armhole-seam", "--low", "25mm", "--high", "45mm"),
    ("state-join", "--edge", "front.neck", "--to", "back.neck"),
    ("state-join", "--edge", "front.hem", "--to", "back.hem"),
    ("state-join", "--edge", "sleeve.cap", "--to", "sleeve.cap", "--at", "front-underarm",
     "--meets", "back-underarm"),
    ("state-join", "--edge", "sleeve.hem", "--to", "sleeve.hem", "--at", "hem-back",
     "--meets", "hem-front"),
)  # fmt: skip
CORRECTIONS = (
    ("shorten-shoulder", "--by", "6mm"),
    ("lower-armhole", "--by", "5mm"),
    ("add-ease", "--by", "12mm"),
    ("lengthen-at", "--by", "10mm", "--level", "bust", "--piece", "back"),
)


@pytest.fixture
def two(trueup: Any, tmp_path: Path) -> Any:
    """Trace one drawing twice: all stated at once, and only the names of lines, the rest later."""
    file, names = tmp_path / "paper.svg", tmp_path / "names.toml"
    file.write_bytes(drawn(draft_of(trueup, "village")))
    trueup.made("trace", str(file), "twin", "--as-proposed")
    trueup("trace", str(file), "paper", "--write-names", str(names))
    text, kept, skip = names.read_text("utf-8").split("[[seam]]")[0], [], False
    for line in text.splitlines():
        if line.startswith("["):
            skip = line == "[piece.levels]"
        if not skip and not line.startswith(("fold =", "grain =")):
            kept.append(line)
    names.write_text("\n".join(kept), "utf-8")
    answer = trueup.made("trace", str(file), "paper", "--names", str(names))
    for what in ("no seam of", "no levels", "no grainline"):
        assert what in answer.err
    for block in ("twin", "paper"):
        trueup.made("derive", f"{block}-smock", "--from", block)
    return trueup


def measured_levels(twin: Draft) -> list[tuple[str, ...]]:
    """Return in words the levels that were lines of the drawing, measured down from a corner."""
    places = (("front", "chest", "neck-point"), ("back", "chest", "neck-point"),
              ("sleeve", "elbow", "front-underarm"))  # fmt: skip
    found = []
    for name, level, corner in places:
        piece = twin.piece(name)
        at = f"{piece.level(level).y - piece.corner(corner).imag:.4f}mm below {corner}"
        found.append(("state-level", "--piece", name, "--name", level, "--at", at))
    return found


def pieces_of(draft: Draft) -> dict[str, Any]:
    return {
        piece.name: (
            piece.fold,
            {(level.name, round(level.y, 3), level.along) for level in piece.levels},
            piece.grainline is not None,
        )
        for piece in draft.pieces
    }


def test_said_later_it_is_the_block_that_was_stated_at_once_and_corrections_arrive_alike(
    two: Any,
) -> None:
    for words in (*SAID_LATER, *measured_levels(draft_of(two, "twin"))):
        why = ("--why", "as on the card", "--json")
        answer = two.made("correct", "paper", *words, *why)
        assert [each["verdict"] for each in answer.document["patterns"]] == ["carried"], words
    twin, paper = draft_of(two, "twin"), draft_of(two, "paper")
    assert pieces_of(paper) == pieces_of(twin)
    assert measures(paper) == pytest.approx(measures(twin))
    ends = ({frozenset((j.first, j.second)) for j in draft.joins} for draft in (twin, paper))
    assert next(ends) == next(ends)
    for node in ("paper", "paper-smock"):
        assert f"{node} is true" in two.made("check", node).out
    for kind, *words in CORRECTIONS:
        told = [
            _without(two("correct", block, kind, *words, "--preview", "--json").document, block)
            for block in ("twin", "paper")
        ]
        assert told[0] == told[1], kind


def _without(document: Any, block: str) -> Any:
    """Return what a preview says, but for names and ids; numbers to the tenth."""
    return (
        [(each["name"], _round(each["after_mm"])) for each in document["measures"]],
        [
            (each["verdict"], [(m["name"], _round(m["got_mm"])) for m in each["measures"]])
            for each in document["patterns"]
        ],
        sorted((c["kind"], c["piece"], c["edge"]) for c in document["conflicts"]),
        document["unchecked"],
    )


def _round(amount: float | None) -> float | None:
    return None if amount is None else round(amount, 1) + 0.0


def test_a_fold_stated_wrongly_is_opened_and_the_right_edge_laid_on_it(two: Any) -> None:
    two.made("correct", "paper", "close-fold", "--edge", "front.centre")
    two.made("correct", "paper", "open-fold", "--piece", "front", "--by", "0mm")
    assert draft_of(two, "paper").piece("front").fold is None
    two.made("correct", "paper", "unpick", "--seam", "front-centre", "--why", "it is cut as a pair")
    assert "front-centre" not in [seam.name for seam in draft_of(two, "paper").seams]


def test_what_is_said_wrongly_is_refused_in_one_sentence_and_nothing_is_written(two: Any) -> None:
    before = two.contents()
    for words, says in (
        (("state-level", "--piece", "front", "--name", "hip", "--at", "here"), "along hem"),
        (("state-level", "--piece", "front", "--name", "hip"), "at cannot be left out"),
        (("state-grain", "--edge", "front.top"), '"front.top" is not an edge'),
        (("state-join", "--edge", "front.neck", "--to", "sleeve.hem"), "name the corner"),
        (
            (
                "sew-together",
                "--line",
                "front.armhole back.armhole",
                "--to",
                "sleeve.cap",
                "--name",
                "armhole-seam",
            ),
            "state that first, with state-join",
        ),
        (("unpick", "--seam", "side-seam"), '"side-seam" is not a seam'),
        (("leave-free", "--edge", "front.top"), '"front.top" is not an edge'),
    ):
        answer = two("correct", "paper", *words)
        assert (answer.code, answer.out) == (2, ""), words
        assert says in answer.err
        assert len(answer.err.strip().splitlines()) == 1
    assert two.contents() == before
