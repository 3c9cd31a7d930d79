"""Photographs of a table with card on it and the printed frame round it, worked out by themselves.

The frame is the printed PDF, drawn by pdfium, its strips cut out where their lines are. Card is
drawn by pdfium too. The camera is a pinhole with Brown's lens distortion; light, blur, noise and
JPEG follow. Nothing of the code under test is used. Lengths in mm, x right and y down the table.
"""

import io
import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache
from typing import Any

import cv2
import numpy as np
import pypdfium2
from PIL import Image
from reportlab.pdfgen.canvas import Canvas

from tests.cli.sheet.pdf import read
from trueup.cli.sheet.ink.drawn import InkPen
from trueup.cli.sheet.photo_frame import framed

FINE = 0.2
"""A pixel of the table, mm."""

PRINT = 0.1
"""A pixel of the printed strips, mm."""

Picture = np.ndarray[Any, Any]


@dataclass(frozen=True)
class Placed:
    """A strip on the table: where its upper left corner lies, and how it is turned, degrees."""

    strip: int
    at: complex
    turned: float = 0.0
    scale: float = 1.0


@dataclass(frozen=True)
class Card:
    """A piece of card: its outline, its colour, and lines drawn on it with their width."""

    outline: Sequence[complex]
    colour: tuple[int, int, int] = (222, 196, 150)
    lines: Sequence[tuple[Sequence[complex], float]] = ()
    rim: float = 0.0
    """The width of the dark line that its edge shows, as of a shadow."""


@dataclass(frozen=True)
class Table:
    width: float
    height: float
    colour: tuple[int, int, int] = (70, 92, 88)
    grain: float = 4.0
    """How much its colour varies, of 255."""


@dataclass(frozen=True)
class Camera:
    """What takes the picture: where it stands over the table, how it leans, its lens."""

    width: int = 4000
    height: int = 3000
    over: complex | None = None
    high: float = 1300.0
    leans: tuple[float, float] = (0.0, 0.0)
    turned: float = 0.0
    focal: float = 0.80
    """In widths of the picture."""
    radial: tuple[float, float] = (0.0, 0.0)
    tangential: tuple[float, float] = (0.0, 0.0)
    blur: float = 0.8
    noise: float = 2.0
    shade: float = 0.0
    """By how much the light falls off over the picture."""
    quality: int = 90


@dataclass(frozen=True)
class Scene:
    table: Table
    cards: Sequence[Card]
    strips: Sequence[Placed]
    camera: Camera = field(default_factory=Camera)


@cache
def printed_strips() -> Mapping[int, tuple[Picture, complex]]:
    """Return each strip of the printed frame, cut out of its page, and its mm to a pixel."""
    content = framed("a4").content
    document = pypdfium2.PdfDocument(content)
    found: dict[int, tuple[Picture, complex]] = {}
    for page, lines in zip(document, read(content), strict=True):
        picture = page.render(scale=25.4 / 72 / PRINT).to_numpy()
        high, wide = picture.shape[:2]
        dot = complex(lines.width / wide, lines.height / high)
        cut = [line for line in lines.in_pen(InkPen.FRAME) if 500 < line.length < 600]
        for line in sorted(cut, key=lambda line: min(p.imag for p in line.points)):
            across = [p.real / dot.real for p in line.points]
            down = [p.imag / dot.imag for p in line.points]
            rows = slice(round(min(down)), round(max(down)))
            columns = slice(round(min(across)), round(max(across)))
            found[len(found) + 1] = (picture[rows, columns, 0].copy(), dot)
    return found


def photograph(scene: Scene) -> Picture:
    """Return what the camera takes of a table, as an array of RGB."""
    return _taken(_painted(scene), scene)


def jpeg(picture: Picture, quality: int = 90, **others: Any) -> bytes:
    stream = io.BytesIO()
    Image.fromarray(picture).save(stream, "JPEG", quality=quality, **others)
    return stream.getvalue()


def _painted(scene: Scene) -> Picture:
    """Return the table from above, FINE mm to a pixel."""
    table = scene.table
    page = io.BytesIO()
    points = 72 / 25.4
    canvas = Canvas(page, pagesize=(table.width * points, table.height * points))
    canvas.setFillColorRGB(*(each / 255 for each in table.colour))
    canvas.rect(0, 0, table.width * points, table.height * points, stroke=0, fill=1)
    for card in scene.cards:
        _cut(canvas, card, table.height)
    canvas.save()
    drawn = pypdfium2.PdfDocument(page.getvalue())[0].render(scale=25.4 / 72 / FINE)
    picture = np.ascontiguousarray(drawn.to_numpy()[:, :, 2::-1])
    _grained(picture, table)
    for placed in scene.strips:
        _lay(picture, placed)
    return picture


def _cut(canvas: Any, card: Card, height: float) -> None:
    points = 72 / 25.4

    def lead(line: Sequence[complex], closed: bool) -> Any:
        path = canvas.beginPath()
        path.moveTo(line[0].real * points, (height - line[0].imag) * points)
        for point in line[1:]:
            path.lineTo(point.real * points, (height - point.imag) * points)
        if closed:
            path.close()
        return path

    colour = [each / 255 for each in card.colour]
    canvas.setFillColorRGB(*colour)
    canvas.drawPath(lead(card.outline, True), stroke=0, fill=1)
    if card.rim:
        canvas.saveState()
        canvas.clipPath(lead(card.outline, True), stroke=0, fill=0)
        canvas.setStrokeColorRGB(*(each * 0.6 for each in colour))
        canvas.setLineWidth(2 * card.rim * points)
        canvas.drawPath(lead(card.outline, True), stroke=1, fill=0)
        canvas.restoreState()
    canvas.setStrokeColorRGB(0.15, 0.15, 0.2)
    for line, width in card.lines:
        canvas.setLineWidth(width * points)
        canvas.drawPath(lead(line, False), stroke=1, fill=0)


def _lay(picture: Picture, placed: Placed) -> None:
    """Paint a strip on the table, turned about its upper left corner."""
    strip, dot = printed_strips()[placed.strip]
    turn = np.exp(1j * math.radians(placed.turned)) * placed.scale / FINE
    corner = placed.at / FINE
    # From the middle of a pixel of the strip to that of a pixel of the table.
    across, down = turn * dot.real, turn * 1j * dot.imag
    start = corner + (across + down) / 2 - (0.5 + 0.5j)
    matrix = np.array([[across.real, down.real, start.real], [across.imag, down.imag, start.imag]])
    reach = [corner + n * across * strip.shape[1] for n in (0, 1)]
    reach += [each + down * strip.shape[0] for each in reach]
    left, top = (int(min(getattr(p, w) for p in reach)) - 2 for w in ("real", "imag"))
    right, low = (int(max(getattr(p, w) for p in reach)) + 3 for w in ("real", "imag"))
    matrix[:, 2] -= left, top
    size = (right - left, low - top)
    laid = cv2.warpAffine(strip, matrix, size, borderMode=cv2.BORDER_REPLICATE)
    there = cv2.warpAffine(np.full_like(strip, 255), matrix, size)
    share = there.astype(np.float32)[:, :, None] / 255
    paper = 14 + laid.astype(np.float32)[:, :, None] * (222 / 255)
    under = picture[top:low, left:right]
    under[:] = np.round(under * (1 - share) + paper * share)


def _grained(picture: Picture, table: Table) -> None:
    """Let the colour of the table vary, softly and in streaks, as wood does."""
    random = np.random.default_rng(7)
    high, wide = picture.shape[:2]
    spots = random.standard_normal((high // 12, wide // 12), np.float32)
    streaks = random.standard_normal((high // 25, 4), np.float32)
    grain = table.grain * 0.7 * cv2.resize(spots, (wide, high))
    grain += table.grain * 0.7 * cv2.resize(streaks, (wide, high))
    bare = cv2.inRange(picture, table.colour, table.colour)
    grained = [cv2.add(grain, float(each), dtype=cv2.CV_8U) for each in table.colour]
    cv2.copyTo(cv2.merge(grained), bare, picture)


def where(scene: Scene, u: Picture, v: Picture) -> Picture:
    """Return which points of the table the pixels at u, v see, as complex numbers.

    Source: the pinhole camera with Brown's radial and tangential distortion (D. C. Brown,
    "Close-range camera calibration", 1971), which tells the seen from the undistorted.
    """
    camera, table = scene.camera, scene.table
    focal = camera.focal * camera.width
    seen = np.stack([(u - (camera.width - 1) / 2) / focal, (v - (camera.height - 1) / 2) / focal])
    (k1, k2), (p1, p2) = camera.radial, camera.tangential
    x, y = seen
    for _ in range(30):
        square = x * x + y * y
        radial = 1 + k1 * square + k2 * square**2
        aside = 2 * p1 * x * y + p2 * (square + 2 * x * x)
        below = p1 * (square + 2 * y * y) + 2 * p2 * x * y
        x, y = (seen[0] - aside) / radial, (seen[1] - below) / radial
    (a, b), c = (math.radians(each) for each in camera.leans), math.radians(camera.turned)
    lean = np.array([[1, 0, 0], [0, math.cos(a), -math.sin(a)], [0, math.sin(a), math.cos(a)]])
    tip = np.array([[math.cos(b), 0, math.sin(b)], [0, 1, 0], [-math.sin(b), 0, math.cos(b)]])
    turn = np.array([[math.cos(c), -math.sin(c), 0], [math.sin(c), math.cos(c), 0], [0, 0, 1]])
    way = turn @ tip @ lean
    middle = complex(table.width, table.height) / 2 if camera.over is None else camera.over
    axis = way @ np.array([0.0, 0.0, 1.0])
    stands = np.array([middle.real, middle.imag, 0.0]) - axis * camera.high
    rays = np.tensordot(way, np.stack([x, y, np.ones_like(x)]), 1)
    reach = -stands[2] / rays[2]
    return (stands[0] + reach * rays[0]) + 1j * (stands[1] + reach * rays[1])


def _taken(table: Picture, scene: Scene) -> Picture:
    camera = scene.camera
    size = (camera.width, camera.height)
    # The way of the light is worked out for each eighth pixel and lies smoothly between them.
    v, u = np.mgrid[-8 : camera.height + 16 : 8, -8 : camera.width + 16 : 8].astype(float)
    coarse = where(scene, u, v) / FINE - (0.5 + 0.5j)
    rows, columns = (np.arange(n, dtype=np.float32) / 8 + 1 for n in (camera.height, camera.width))
    grid = np.meshgrid(columns, rows)
    across, down = (
        cv2.remap(part.astype(np.float32), *grid, cv2.INTER_LINEAR)
        for part in (coarse.real, coarse.imag)
    )
    light = cv2.LUT(table, _LINEAR)
    seen = cv2.remap(light, across, down, cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE)
    picture = seen.astype(np.float32) / 65535
    if camera.shade:
        v, u = np.mgrid[0:1:50j, 0:1:50j]
        fall = 1 - camera.shade * (0.7 * u + 0.3 * v)
        picture *= cv2.resize(fall.astype(np.float32), size)[:, :, None]
    if camera.blur:
        picture = cv2.GaussianBlur(picture, (0, 0), camera.blur)
    coded = 255 * (1.055 * np.maximum(picture, 1e-6) ** np.float32(1 / 2.4) - 0.055)
    random = np.random.default_rng(12)
    coded += random.standard_normal(coded.shape, np.float32) * camera.noise
    return np.clip(np.round(coded), 0, 255).astype(np.uint8)


_CODED = np.arange(256) / 255
_LINEAR = np.round(
    65535 * np.where(_CODED <= 0.04045, _CODED / 12.92, ((_CODED + 0.055) / 1.055) ** 2.4)
).astype(np.uint16)
"""Light by its code in sRGB (IEC 61966-2-1)."""
