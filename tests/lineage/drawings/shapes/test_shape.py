"""A line of a drawing, whatever it was read from."""

from trueup.geometry.lines.chain import Chain
from trueup.lineage.drawings.shapes.shape import Shape, ShapePage, Text


def test_a_shape_keeps_what_its_source_says_of_it():
    ring = Chain.line(0j, 30 + 0j, 30 + 40j, 0j)
    shape = Shape("path1", ring, True, ("layer 1", "front"), ("side",), "line 3")
    page = ShapePage((shape,), (Text("cut 2", 3 + 4j),))
    assert (page.shapes[0].length, page.is_sized) == (120.0, True)
