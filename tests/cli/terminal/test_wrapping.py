"""Lines are broken between words only, whatever the width."""

import random

import pytest
from rich.cells import cell_len
from rich.text import Text

from trueup.cli.terminal.typesetting import Signs
from trueup.cli.terminal.wrapping import wrapped

WORDS = ["front.armhole", "12", "the", "裁縫師", "a", "widow-bodice", "ease;"]


@pytest.mark.parametrize("seed", range(200))
def test_no_word_is_lost_nor_broken_nor_line_filled_badly(seed: int) -> None:
    draw = random.Random(seed)
    line = "  " * draw.randrange(3) + " ".join(draw.choices(WORDS, k=draw.randrange(1, 30)))
    width = draw.randrange(14, 40)
    lines = [each.plain for each in wrapped(Text(line), width)]
    assert " ".join(lines).split() == line.split()
    for each, following in zip(lines, [*lines[1:], None], strict=True):
        first = each.split()
        assert cell_len(each) <= width or len(first) == 1
        if following is not None:
            assert cell_len(f"{each} {following.split()[0]}") > width


@pytest.mark.parametrize(
    "kept", ["12.5 mm", "3 1/2 in", "-> 12 mm", "/ -10 mm", "`trueup check a b`", "100 %"]
)
def test_what_belongs_together_stays_on_one_line(kept: str) -> None:
    for width in range(len(kept), 40):
        for before in range(12):
            lines = [each.plain for each in wrapped(Text(f"{'x ' * before}{kept} y z"), width)]
            assert any(kept in each for each in lines)


def test_colours_stay_where_they_were() -> None:
    text = Text("+ carried ", "green").append("12 mm -> 13 mm (-1 mm)", "bold")
    lines = wrapped(Signs(are_real=True).words(text), 12)
    assert [each.plain for each in lines] == ["+ carried", "12 mm", "→ 13 mm", "(−1 mm)"]
    bold = [s for line in lines[1:] for s in line.spans if str(s.style) == "bold"]
    assert bold
