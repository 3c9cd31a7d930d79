"""No page of any sheet of the theatre store is spent on words, or on nothing at all."""

import datetime

import pytest

from tests.cli.sheet.page_objects import counts_of_piece_lines
from tests.cli.sheet.printed import A3, A4, LETTER
from trueup.cli.demo.in_memory import state_of
from trueup.cli.demo.telling import sample_story
from trueup.cli.sheet.document import Sheet, composed, written
from trueup.cli.sheet.facts import PrintedVersion, facts_at
from trueup.cli.sheet.laying.layout import ToPrint
from trueup.cli.sheet.laying.paper import Paper
from trueup.cli.sheet.piece_lines import Layer
from trueup.geometry.pleats.laid_open import as_cut
from trueup.lineage.evaluation.evaluate import Evaluator

VERSION = PrintedVersion("0" * 40, datetime.date(2025, 3, 31))


@pytest.fixture(scope="module")
def store() -> Evaluator:
    return Evaluator(state_of(sample_story()))


def sheet_of(store: Evaluator, node: str, paper: Paper) -> Sheet:
    pieces = tuple(ToPrint(piece) for piece in as_cut(store.draft(node)).pieces)
    layers = (Layer.SEAM, Layer.CUTTING)
    return Sheet(facts_at(store, node, VERSION), pieces, paper, layers)


@pytest.mark.parametrize("paper", [A4, LETTER, A3], ids=str)
def test_every_page_shows_a_line_of_a_piece(store: Evaluator, paper: Paper) -> None:
    for node in store.state.in_order:
        sheet = sheet_of(store, node, paper)
        counts = counts_of_piece_lines(written(sheet.facts, composed(sheet).pages))
        bare = [number for number, lines in enumerate(counts, start=1) if not lines]
        assert (node, bare) == (node, [])
