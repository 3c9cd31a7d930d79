"""The picture of a pattern's page."""

import pytest

from tests.builders import block
from trueup.cli.drawing.pattern_picture import pattern_picture
from trueup.cli.drawing.scene.scene import Group, Mark
from trueup.lineage.files.records import ConflictKind, ConflictRecord

EDGES = [(piece.name, edge) for piece in block().pieces for edge in piece.edge_names]


@pytest.mark.parametrize(("piece", "edge"), EDGES)
def test_the_sign_of_a_conflict_is_seen_whole(piece: str, edge: str) -> None:
    draft = block()
    conflict = ConflictRecord("seam-1", ConflictKind.SEAM, "village", piece, edge, "seam", "x")
    scene = pattern_picture(draft, "village", [conflict, conflict])
    (drawn,) = [each for each in scene.items if isinstance(each, Group) and each.id == piece]
    marks = [each for each in drawn.items if isinstance(each, Mark)]
    assert len(marks) == 2
    for mark in marks:
        at = drawn.motion(mark.at)
        assert mark.radius <= at.real <= scene.width - mark.radius
        assert mark.radius <= at.imag <= scene.height - mark.radius
