"""The key to the letters of the seams, as the cover has it. Lengths in mm."""

from collections.abc import Iterator, Sequence

from trueup.cli.sheet.ink.blocks import Block, heading, paragraph, table
from trueup.cli.sheet.ink.letters import width_of
from trueup.cli.sheet.naming.seam_letters import LetteredSeam

_SIZE = 3.0
_APART = 6.0


def seam_key(seams: Sequence[LetteredSeam], width: float) -> Iterator[Block]:
    """Yield which lines each letter sews together, in two columns where they are short enough."""
    if not seams:
        return
    yield heading("Sewn together")
    yield from paragraph("Lines with the same letter inside them are sewn to each other.", width)
    told = [(each.letter, f"= {each.says}") for each in seams]
    widest = max(width_of("".join(each), _SIZE) for each in told) + 4 * _SIZE
    if 2 * widest + _APART > width:
        yield from table(told, width, _SIZE)
        return
    half = -(-len(told) // 2)
    second = [*told[half:], *[("", "")] * (2 * half - len(told))]
    rows = [(*left, *right) for left, right in zip(told[:half], second, strict=True)]
    yield from table(rows, width, _SIZE)
