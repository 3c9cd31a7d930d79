"""The words for what is refused, by the names the reasons have in `geometry` and `lineage`.

None ends with a full stop: one can stand in another.
"""

from trueup.cli.wording.refusals.blocks import BLOCKS
from trueup.cli.wording.refusals.bound import BOUND
from trueup.cli.wording.refusals.changes import DOES_NOT_FIT
from trueup.cli.wording.refusals.drawings import OUTLINES
from trueup.cli.wording.refusals.kinds.collars import COLLARS
from trueup.cli.wording.refusals.kinds.fit import FIT
from trueup.cli.wording.refusals.kinds.flies import FLIES
from trueup.cli.wording.refusals.kinds.gores import GORES
from trueup.cli.wording.refusals.kinds.marks import MARKS
from trueup.cli.wording.refusals.kinds.pieces import PIECES
from trueup.cli.wording.refusals.kinds.raglan import RAGLAN
from trueup.cli.wording.refusals.kinds.skirts import SKIRTS
from trueup.cli.wording.refusals.kinds.sleeves import SLEEVES
from trueup.cli.wording.refusals.kinds.stating import STATING
from trueup.cli.wording.refusals.kinds.two_piece import TWO_PIECE
from trueup.cli.wording.refusals.photographs import PHOTOGRAPHS
from trueup.cli.wording.refusals.possible import NOUGHT, POSSIBLE
from trueup.cli.wording.refusals.said_of import DRAWINGS, PINNED
from trueup.cli.wording.refusals.values import LENGTHS, LINES, VALUES

__all__ = ["NOUGHT", "REFUSALS"]

_WHOLE = {
    "text": "{text}",
    "parts": "{+}",
    "length": "{mm:mm}",
    "cannot-change": "{kind} cannot be done on {place}: {0}; {1}",
    "does-not-fit": "it cannot be done: {0}; {1}",
    "bad-parameter": "{name} cannot be {0}: {1}",
    "bad-position": '"{0}" is not a place on an edge: {1}',
    "bad-length": '"{text}" is not a length: {0}; {1}',
}

REFUSALS = {
    **_WHOLE,
    **BLOCKS,
    **BOUND,
    **DOES_NOT_FIT,
    **FIT,
    **COLLARS,
    **POSSIBLE,
    **LINES,
    **VALUES,
    **LENGTHS,
    **PINNED,
    **DRAWINGS,
    **SKIRTS,
    **SLEEVES,
    **MARKS,
    **GORES,
    **FLIES,
    **RAGLAN,
    **PIECES,
    **STATING,
    **TWO_PIECE,
    **PHOTOGRAPHS,
    **OUTLINES,
}
