"""Photographs that cannot be measured are refused, each in one sentence that says what helps."""

from collections.abc import Callable
from dataclasses import replace
from functools import cache
from typing import Any

import cv2
import numpy as np
import pytest

from tests.lineage.drawings.photographs.rendering import (
    Camera,
    Picture,
    Scene,
    jpeg,
    photograph,
)
from tests.lineage.drawings.photographs.tables import AT_CORNERS, bodice_table
from tests.refusals import refusing
from trueup.lineage.drawings.photographs.errors import CannotMeasure
from trueup.lineage.drawings.photographs.photograph import photographed

SEEN = Camera(2400, 1800, high=900, focal=0.72, noise=1.5)
"""From straight above, so that places on the table are easily told in the picture."""

PIXEL = 900 / (0.72 * 2400)

TABLE = (70, 92, 88)
CARD = (222, 196, 150)


def scene() -> Scene:
    return bodice_table(SEEN)[0]


@cache
def picture() -> Picture:
    return photograph(scene())


def seen(at: complex) -> tuple[int, int]:
    """Return the pixel that sees a place of the table."""
    pixel = (at - (650 + 475j)) / PIXEL + (1199.5 + 899.5j)
    return round(pixel.real), round(pixel.imag)


def painted(corners: list[complex], colour: tuple[int, int, int]) -> Picture:
    drawn = picture().copy()
    cv2.fillPoly(drawn, [np.array([seen(at) for at in corners])], colour, cv2.LINE_AA)
    return drawn


def blurred(by: float) -> Picture:
    return cv2.GaussianBlur(picture(), (0, 0), by)


def covered(*strips: int) -> Picture:
    """Return the picture with so many strips under cloth of the table's colour."""
    drawn = picture().copy()
    for placed in AT_CORNERS:
        if placed.strip in strips:
            turn = complex(np.exp(1j * np.radians(placed.turned)))
            ring = [placed.at + turn * way for way in (-4 - 4j, 256 - 4j, 256 + 42j, -4 + 42j)]
            cv2.fillPoly(drawn, [np.array([seen(at) for at in ring])], TABLE)
    return drawn


def laid_twice() -> Picture:
    drawn = picture().copy()
    (left, top), (right, low) = seen(245 + 95j), seen(505 + 155j)
    patch = drawn[top:low, left:right]
    at, under = seen(560 + 820j)
    drawn[under : under + patch.shape[0], at : at + patch.shape[1]] = patch
    return drawn


def overlapped(rim: int) -> Picture:
    """Return the picture with a second card over the first, its edge a thin dark line."""
    corners = [640 + 560j, 860 + 540j, 850 + 690j, 660 + 740j]
    drawn = painted(corners, CARD)
    ring = np.array([seen(at) for at in corners])
    cv2.polylines(drawn, [ring], True, (150, 130, 96), rim, cv2.LINE_AA)
    return drawn


BAD: dict[str, tuple[Callable[[], Picture], str]] = {
    "blurred": (lambda: blurred(5.0), "it is blurred|no strip of the frame"),
    "very blurred": (lambda: blurred(25.0), "no strip of the frame"),
    "cropped to half": (lambda: picture()[:, :1150], "cut off by its border|beyond|out of the fr"),
    "cropped at the piece": (lambda: picture()[:, :1300], "cut off by its border"),
    "cropped below": (lambda: picture()[:1100], "cut off by its border"),
    "no frame": (lambda: covered(*range(1, 9)), "no strip of the frame"),
    "too few strips": (lambda: covered(1, 2, 3, 4, 6), "3 strips .* to be seen well, .* takes 4"),
    "strips on one side": (lambda: covered(3, 4, 7, 8), "reaches out of the frame"),
    "a strip laid twice": (laid_twice, "strip 1 of the frame is in it twice"),
    "mirrored": (lambda: picture()[:, ::-1], "it is mirrored"),
    "negative": (lambda: 255 - picture(), "it is a negative"),
    "too coarse": (lambda: cv2.resize(picture(), (1200, 900)), "a pixel sees 1 mm, .* 0.8 mm"),
    "nothing on the table": (
        lambda: painted([420 + 230j, 780 + 230j, 780 + 760j, 420 + 760j], TABLE),
        "nothing on the table is told apart",
    ),
    "card over a strip": (
        lambda: painted([600 + 300j, 720 + 110j, 760 + 110j, 700 + 320j], CARD),
        "touches or covers strip 3",
    ),
    "card beyond the frame": (
        lambda: painted([600 + 420j, 1010 + 405j, 1010 + 455j, 600 + 470j], CARD),
        "reaches out of the frame",
    ),
    "two cards over each other": (lambda: overlapped(1), "two pieces lie over each other"),
    "a strip that cannot be read": (
        lambda: painted([520 + 210j, 770 + 205j, 770 + 241j, 520 + 246j], (235, 235, 235)),
        "seems to be a strip that cannot be read",
    ),
}


@pytest.mark.parametrize("name", BAD)
def test_it_is_refused_in_one_sentence(name: str) -> None:
    made, says = BAD[name]
    content = jpeg(np.ascontiguousarray(made()))
    with refusing(CannotMeasure, match=rf"^photo.jpg cannot be measured: .*({says}).*; .+\.$"):
        photographed(content, "photo.jpg")


def test_where_something_is_wrong_is_told_in_the_picture() -> None:
    content = jpeg(overlapped(1))
    with refusing(CannotMeasure, match="over each other") as caught:
        photographed(content, "photo.jpg")
    facts: Any = caught.value.reason
    across, down = (float(facts.facts[way]) / 100 for way in ("across", "down"))
    at = complex(across * SEEN.width, down * SEEN.height)
    corners = [complex(*seen(each)) for each in (700 + 554j, 700 + 732j)]
    assert min(abs(at - corner) for corner in corners) < 60


def test_a_strip_printed_at_another_scale_is_refused() -> None:
    strips = tuple(
        replace(placed, scale=1.02) if placed.strip == 5 else placed for placed in AT_CORNERS
    )
    content = jpeg(photograph(replace(scene(), strips=strips)))
    says = (
        r"strip 5 of the frame comes out 2\.\d % too long, measured by the others; lay all strips"
    )
    with refusing(CannotMeasure, match=says):
        photographed(content, "photo.jpg")


def test_half_of_a_strip_may_be_covered() -> None:
    half = picture().copy()
    cv2.rectangle(half, seen(250 + 90j), seen(340 + 150j), TABLE, -1)
    whole, part = (photographed(jpeg(each), "photo.jpg") for each in (picture(), half))
    lengths = [each.page.shapes[0].length for each in (whole, part)]
    assert abs(lengths[0] - lengths[1]) < 0.5
