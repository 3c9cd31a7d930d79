"""Photographs of card, worked out from known outlines: how near their tracings come."""

from collections.abc import Iterator
from typing import Any

import numpy as np
import pytest
from PIL import Image

from tests.bounded import python
from tests.lineage.drawings.photographs.rendering import Camera, Picture, jpeg, photograph
from tests.lineage.drawings.photographs.tables import (
    SLITS,
    Line,
    bodice_table,
    length_around,
    nearness,
    small_table,
    trouser_table,
)
from trueup.lineage.drawings.photographs.photograph import Photographed, photographed
from trueup.lineage.drawings.shapes.shape import Shape, Told

TABLES = {"bodice": bodice_table, "trouser leg": trouser_table, "small pieces": small_table}

CAMERAS = {
    "bodice": Camera(
        high=900, focal=0.72, leans=(7, -5), turned=3, radial=(0.09, -0.05), shade=0.3
    ),
    "trouser leg": Camera(
        high=1150,
        focal=0.72,
        leans=(-4, 9),
        radial=(-0.06, 0.02),
        tangential=(5e-4, -5e-4),
        noise=4,
    ),
    "small pieces": Camera(
        high=850, focal=0.72, leans=(2, 1), turned=90, blur=1.4, shade=0.1, quality=80
    ),
}
"""As a hand holds a telephone over a table, with lenses worse than most."""

WITHIN = 1.0
SHARE = 0.005


@pytest.fixture(scope="module", params=list(TABLES))
def taken(request: Any) -> tuple[Picture, Photographed, list[list[Line]]]:
    scene, pieces = TABLES[request.param](CAMERAS[request.param])
    picture = photograph(scene)
    found = photographed(jpeg(picture, scene.camera.quality), "photo.jpg")
    return picture, found, pieces


def matched(found: Photographed, pieces: list[list[Line]]) -> Iterator[tuple[Shape, list[Line]]]:
    """Yield each outline with the piece that is about as long all round."""
    shapes = sorted(found.page.shapes, key=lambda shape: shape.length)
    return zip(shapes, sorted(pieces, key=length_around), strict=True)


def require_near(found: Photographed, pieces: list[list[Line]]) -> None:
    for shape, lines in matched(found, pieces):
        near = nearness(shape, lines)
        assert near.corners < WITHIN
        assert near.line < WITHIN
        for length, true in near.lengths:
            assert abs(length - true) < max(WITHIN, SHARE * true)


def test_lines_and_corners_come_out_as_they_were_cut(taken: Any) -> None:
    _, found, pieces = taken
    require_near(found, pieces)


def test_what_is_straight_is_straight_and_bends_take_few_curves(taken: Any) -> None:
    _, found, pieces = taken
    for shape, lines in matched(found, pieces):
        straight = sum(len(line) == 2 for line in lines)
        assert sum(cubic.is_straight for cubic in shape.chain.cubics) == straight
        assert len(shape.chain.cubics) - straight <= 4 * (len(lines) - straight)


def test_an_outline_is_closed_and_told_as_a_boundary(taken: Any) -> None:
    _, found, _ = taken
    for shape in found.page.shapes:
        assert shape.is_closed
        assert shape.chain.start == shape.chain.end
        assert shape.told is Told.BOUNDARY
        points = np.array([point for cubic in shape.chain.cubics for point in cubic])
        assert min(points.real.min(), points.imag.min()) > 0


def test_the_error_is_measured_on_the_frame_and_told(taken: Any) -> None:
    _, found, _ = taken
    assert 0 < found.error < 0.002
    assert f"{100 * found.error:.2f} %" in found.page.size
    assert f"{found.strips} strips" in found.page.size
    assert 0.25 < found.pixel < 0.5


@pytest.mark.parametrize("taken", ["bodice"], indirect=True)
class TestABodice:
    def test_slits_are_told_as_notches_and_the_edge_runs_on_over_them(self, taken: Any) -> None:
        _, found, pieces = taken
        (shape,), (lines,) = found.page.shapes, pieces
        near = nearness(shape, lines)
        start, end = lines[1]
        wanted = [start + (end - start) * share for share in SLITS]
        places = [near.turn * spot.at + near.shift for spot in found.page.spots]
        assert len(places) == len(SLITS)
        assert all(spot.told is Told.NOTCH for spot in found.page.spots)
        for place in wanted:
            assert min(abs(place - each) for each in places) < WITHIN

    def test_it_is_turned_as_the_camera_was_held(self, taken: Any) -> None:
        picture, _, pieces = taken
        exif = Image.Exif()
        exif[0x0112] = 6  # to be turned a quarter to the right
        content = jpeg(np.ascontiguousarray(np.rot90(picture)), exif=exif)
        found = photographed(content, "photo.jpg")
        require_near(found, pieces)
        longest = max(found.page.shapes[0].chain.cubics, key=lambda cubic: cubic.length)
        assert abs((longest.end - longest.start).imag) > 300

    def test_a_strip_printed_otherwise_is_made_up_for(self, taken: Any) -> None:
        picture, found, _ = taken
        again = photographed(jpeg(picture), "photo.jpg", 230.0 * 1.01)
        lengths = (again.page.shapes[0].length, found.page.shapes[0].length)
        assert lengths[0] / lengths[1] == pytest.approx(1.01, abs=1e-3)

    def test_the_largest_picture_takes_less_than_a_gibibyte(
        self, taken: Any, tmp_path: Any
    ) -> None:
        picture, _, _ = taken
        large = Image.fromarray(picture).resize((8100, 6075), Image.Resampling.BILINEAR)
        file = tmp_path / "large.jpg"
        large.save(file, "JPEG", quality=80)
        printed = python(
            """
            import sys
            from pathlib import Path
            from trueup.lineage.drawings.photographs.photograph import photographed
            found = photographed(Path(sys.argv[1]).read_bytes(), "photo.jpg")
            print(len(found.page.shapes))
            """,
            str(file),
        )
        assert printed == "1\n"
