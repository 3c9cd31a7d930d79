"""trueup promote from a size: to its own block, or to the block that it is a size of."""

from pathlib import Path
from typing import Any

import pytest

from tests.judging.sampled import length
from trueup.lineage.wardrobe import Wardrobe

TABLE = """size,bust,waist,back-length,sleeve-length
10,84cm,64cm,40cm,57cm
12,88cm,68cm,41cm,58cm
14,92cm,72cm,42cm,59cm
"""
NODES = ("village-10", "blouse-10", "village-12", "blouse-12", "village-14", "own")


@pytest.fixture
def sized(trueup: Any, tmp_path: Path) -> Any:
    table = tmp_path / "sizes.csv"
    table.write_text(TABLE)
    trueup.made("sizes", "blouse", "--table", str(table))
    return trueup


def shoulders(trueup: Any) -> dict[str, float]:
    with Wardrobe.open(trueup.folder) as wardrobe:
        return {
            node: length(wardrobe.evaluator.draft(node).piece("front").edge("shoulder"))
            for node in NODES
        }


@pytest.mark.parametrize(
    ("at", "to", "gains"),
    [
        ("blouse-12", "village-12", {"village-12"}),
        ("blouse-12", "village", {*NODES} - {"blouse-12"}),
        ("village-12", "village", {*NODES} - {"village-12", "blouse-12"}),
    ],
)
def test_it_comes_out_as_it_was_and_the_others_gain_it(
    sized: Any, at: str, to: str, gains: set[str]
) -> None:
    sized.made("correct", at, "shorten-shoulder", "--by", "4mm", "--why", "it gapes")
    step, before = sized.step_of(at), shoulders(sized)
    sized.made("promote", at, step, "--to", to)
    after = shoulders(sized)
    for node in NODES:
        wanted = before[node] - (4 if node in gains else 0)
        assert after[node] == pytest.approx(wanted, abs=0.05), node
    assert sized.step_of(to) == step


def test_unless_told_where_it_goes_to_the_block_whose_corrections_it_has(sized: Any) -> None:
    sized.made("correct", "village", "slope-shoulder", "--by", "2mm")
    sized.made("correct", "village-14", "slope-shoulder", "--by", "1mm")
    step = sized.step_of("village-14")
    sized.made("promote", "village-14", step)
    assert sized.step_of("village") == step


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("--to", "blouse"), "it has of blouse only the style"),
        (("--to", "easy"), "name one of village, village-12"),
        (("--to", "village-10"), "village-10 is none of its ancestors"),
        ((), "taken over from easy, shaped front.shoulder before"),
    ],
)
def test_what_cannot_be_is_refused_in_one_sentence(
    sized: Any, words: tuple[str, ...], says: str
) -> None:
    sized.made("correct", "blouse-12", "shorten-shoulder", "--by", "4mm")
    step, before = sized.step_of("blouse-12"), sized.contents()
    answer = sized("promote", "blouse-12", step, *words)
    assert (answer.code, answer.out) == (2, "")
    assert says in answer.err
    assert len(answer.err.strip().splitlines()) == 1
    assert sized.contents() == before


def test_a_size_that_stays_on_an_earlier_version_is_told_so(sized: Any) -> None:
    version = sized.made("history", "--json").document["history"][0]["commit"]
    file = sized.folder / "blocks/village-12.toml"
    held = file.read_text("utf-8").replace(
        'name = "village"', f'name = "village"\nhold = "{version}"'
    )
    file.write_text(held, "utf-8")
    sized.made("keep")
    sized.made("correct", "village-12", "shorten-shoulder", "--by", "4mm")
    answer = sized("promote", "village-12", sized.step_of("village-12"), "--to", "village")
    assert answer.code == 2
    assert "village-12 stays on an earlier version of village" in answer.err
