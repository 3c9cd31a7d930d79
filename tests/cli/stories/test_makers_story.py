"""A maker's story from the block to the cut cloth, told by the command, measured on the exports.

Every length that is judged is read from the SVG files that `export` wrote, by sampling their paths;
nothing of the program's measuring is used. The wardrobe is in inches, the files in millimetres.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
import pytest
from numpy.typing import NDArray
from shapely.geometry import LineString, Point

from tests.cli.conftest import Trueup, run

INCH = 25.4
NEAR = 0.05
"""What a sampled curve may be off, mm."""

VENT = "longer behind, over a vent"
WAIST_DARTS = ("front.waist", "front.waist-side", "back.waist", "back.waist-side")

SIDES = ("left", "right")

Line = NDArray[np.complex128]


@dataclass(frozen=True)
class Drawn:
    """A pattern as its export draws it: the lines by their ids, the corners of cubics sampled.

    Of a piece that is not the same left and right, the one of a `side` is read.
    """

    lines: Mapping[str, Line]
    side: str = ""

    def parts(self, edge: str) -> list[Line]:
        """The parts of an edge in their order, as darts part it."""
        if any(name.startswith(f"{self.side}-{edge}") for name in self.lines):
            edge = f"{self.side}-{edge}"
        numbered = [name for name in self.lines if re.fullmatch(rf"{re.escape(edge)}\.\d+", name)]
        names = sorted(numbered, key=lambda name: int(name.rpartition(".")[2])) or [edge]
        return [self.lines[name] for name in names]

    def length(self, edge: str) -> float:
        return sum(float(np.abs(np.diff(part)).sum()) for part in self.parts(edge))

    def start(self, edge: str) -> complex:
        return complex(self.parts(edge)[0][0])

    def end(self, edge: str) -> complex:
        return complex(self.parts(edge)[-1][-1])

    def intake(self, edge: str) -> float:
        first, second = self.parts(edge)
        return float(abs(second[0] - first[-1]))

    def ease(self) -> float:
        return self.length("sleeve.cap") - sum(
            self.length(f"{piece}.armhole") for piece in ("front", "back")
        )

    def biceps(self) -> float:
        return float(abs(self.end("sleeve.cap") - self.start("sleeve.cap")))

    def seam_line(self, edge: str) -> complex:
        """The way from the first corner of an edge to its last."""
        return self.end(edge) - self.start(edge)

    def on_centre(self, edge: str) -> Line:
        """An edge of the front, seen from the lower end of its centre."""
        return np.concatenate(self.parts(edge)) - self.start("front.centre")


def drawn(store: Trueup, node: str, side: str = "") -> Drawn:
    file = store.folder.parent / f"{node}.svg"
    store.made("export", node, str(file), "--force")
    paths = re.findall(r'<path id="([^"]+)" d="([^"]+)"', file.read_text())
    return Drawn({name: sampled(path) for name, path in paths}, side)


def both_sides(store: Trueup) -> list[Drawn]:
    return [drawn(store, "blouse", side) for side in SIDES]


def sampled(path: str) -> Line:
    """Return points along a path of moves, lines and cubics, each drawn from where it is."""
    t = np.linspace(0.0, 1.0, 201)
    basis = np.stack([(1 - t) ** 3, 3 * (1 - t) ** 2 * t, 3 * (1 - t) * t**2, t**3])
    points: list[complex] = []
    for command, numbers in re.findall(r"([MLCZ])([^MLCZ]*)", path):
        amounts = [float(each) for each in re.findall(r"-?\d+(?:\.\d+)?", numbers)]
        corners = [complex(x, y) for x, y in zip(amounts[::2], amounts[1::2], strict=True)]
        if command == "C":
            for k in range(0, len(corners), 3):
                four = np.array([points[-1], *corners[k : k + 3]])
                points += list(four @ basis)
        else:
            points += corners
    return np.array(points)


def moved(old: Line, new: Line) -> float:
    """How far the points of a line lie from another at most."""
    there = LineString(zip(new.real, new.imag, strict=True))
    return max(Point(p.real, p.imag).distance(there) for p in old)


def waiting(store: Trueup, node: str, edge: str) -> str:
    found = store("conflicts", node, "--json").document["conflicts"]
    (one,) = [each["id"] for each in found if each["edge"] == edge]
    return str(one)


@pytest.fixture(scope="module")
def store(tmp_path_factory: pytest.TempPathFactory) -> Trueup:
    """A store with a block, a blouse block without waist darts, and a blouse that is cut."""
    made = Trueup(tmp_path_factory.mktemp("story") / "store")
    assert run("start", str(made.folder), "--unit", "in").code == 0
    body = ("--bust", "34 5/8", "--waist", "26 3/4", "--back-length", "15")
    made.made("draft", "village", *body, "--sleeve-length", "21 1/4")
    turned = ("--dart", "front.bust", "--edge", "front.side", "--at", "35% from underarm")
    made.made("style", "village", "rotate-dart", *turned)
    made.made("derive", "blouse-block", "--from", "village", "--block")
    for dart in WAIST_DARTS:
        made.made("style", "blouse-block", "release-dart", "--dart", dart)
    made.made("derive", "blouse", "--from", "blouse-block")
    made.made("style", "blouse", "lengthen", "--by", "8in")
    neck = ("--edge", "front.neck", "--through", "50%:1 1/4in")
    made.made("style", "blouse", "redraw-edge", *neck, "--side", "left")
    made.made("style", "blouse", "true-hem", "--piece", "back", "--by", "1in")
    for piece in ("front", "back", "sleeve"):
        made.made("style", "blouse", "seam-allowance", "--piece", piece, "--by", "5/8in")
    return made


def test_from_the_block_to_the_cut_cloth(store: Trueup) -> None:
    village = drawn(store, "village")
    _the_blouse_is_as_it_was_styled(store, village)
    _the_vent_is_accepted(store)
    store.made("cut", "blouse")
    cap = drawn(store, "blouse").biceps()

    after, ease = _the_fitting(store, village)
    centre = after.length("front.centre")
    # The vent is open again, on both sides.
    assert len(store("conflicts", "--json").document["conflicts"]) == 4
    caps = store.made("alter", "blouse-1", "--json").document["cap_by_side"]
    assert [caps[side]["fits"] for side in SIDES] == [False, False]

    # The hem is trued at the side on the block; over its vent the blouse stays as it was accepted.
    store.made("decide", waiting(store, "village", "side"), "true-hem", "--why", "to sew even")
    after = drawn(store, "village")
    assert after.length("front.side") == pytest.approx(after.length("back.side"), abs=NEAR)
    assert after.length("front.centre") == pytest.approx(centre, abs=NEAR)
    for blouse in both_sides(store):
        longer = blouse.length("back.side") - blouse.length("front.side")
        assert longer == pytest.approx(1 * INCH, abs=NEAR)
    assert store("conflicts", "blouse", "--json").document["conflicts"] == []

    # The sleeve is refitted on the block, and holds the ease it had while it fitted still.
    store.made("decide", waiting(store, "village", "cap"), "refit-cap", "--why", "as it was")
    blocks = [drawn(store, node) for node in ("village", "blouse-block")]
    for each in (*blocks, *both_sides(store)):
        assert each.ease() == pytest.approx(ease, abs=0.3)
    for node in ("village", "blouse-block", "blouse"):
        store.made("check", node)
    _the_neck_is_asymmetric_still(store)
    assert VENT in store.made("check", "blouse").out
    _what_is_cut_cannot_take_the_sleeve(store, drawn(store, "blouse").biceps() - cap)


def _the_blouse_is_as_it_was_styled(store: Trueup, village: Drawn) -> None:
    left, right = both_sides(store)
    darts = {name for name in drawn(store, "blouse-block").lines if ".dart." in name}
    assert darts == {"front.dart.bust", "back.dart.shoulder"}
    fronts = {f"{side}-front.dart.bust" for side in SIDES}
    assert {n for n in left.lines if ".dart." in n} == {*fronts, "back.dart.shoulder"}
    assert depth_at_half(left) == pytest.approx(1.25 * INCH, abs=0.3)
    assert depth_at_half(right) == pytest.approx(depth_at_half(village), abs=NEAR)
    assert left.length("front.centre") == pytest.approx(right.length("front.centre"), abs=NEAR)
    for blouse in (left, right):
        longer = blouse.length("back.side") - blouse.length("front.side")
        assert longer == pytest.approx(1 * INCH, abs=NEAR)


def depth_at_half(blouse: Drawn) -> float:
    """How deep the neck lies, half way along, beside the straight way between its ends."""
    (neck,) = blouse.parts("front.neck")
    way = neck[-1] - neck[0]
    beside = (neck - neck[0]) / (way / abs(way))
    at_half = int(np.argmin(np.abs(beside.real - abs(way) / 2)))
    return float(abs(beside.imag[at_half]))


def _the_neck_is_asymmetric_still(store: Trueup) -> None:
    """Of what was corrected on the block nothing drew the neck; the left one is as it was drawn."""
    left, right = both_sides(store)
    assert depth_at_half(left) == pytest.approx(1.25 * INCH, abs=0.5)
    assert depth_at_half(left) - depth_at_half(right) > 5


def _the_vent_is_accepted(store: Trueup) -> None:
    assert store("check", "blouse").code == 1
    found = store("check", "blouse", "--json").document["findings"]
    assert [each["piece"] for each in found] == [f"{side}-front" for side in SIDES]
    for each in found:
        store.made("decide", each["id"], "accept", "--why", VENT)
    store.made("check", "blouse")


def _the_fitting(store: Trueup, before: Drawn) -> tuple[Drawn, float]:
    """Make the corrections one after another, each measured on the block.

    Return the block after them, and the cap ease before the armhole was hollowed.
    """
    store.made("correct", "village", "deepen-dart", "--dart", "front.bust", "--by", "3/8in")
    after = drawn(store, "village")
    assert after.intake("front.side") - before.intake("front.side") == pytest.approx(
        0.375 * INCH, abs=NEAR
    )
    before = after

    store.made("correct", "village", "shorten-shoulder", "--by", "1/2in")
    after = drawn(store, "village")
    for edge in ("front.shoulder", "back.shoulder"):
        assert after.length(edge) - before.length(edge) == pytest.approx(-0.5 * INCH, abs=NEAR)
    before, ease = after, after.ease()
    assert 25 < ease < 45

    store.made("correct", "village", "scoop-armhole", "--piece", "front", "--by", "1in")
    after = drawn(store, "village")
    old, new = before.on_centre("front.armhole"), after.on_centre("front.armhole")
    assert moved(old, new) == pytest.approx(1 * INCH, abs=0.5)
    assert abs(old[-1] - new[-1]) < 0.01  # the underarm is kept
    assert abs(old[0] - new[0]) < 0.01
    before = after

    store.made("correct", "village", "shift-shoulder", "--by", "1/4in")
    after = drawn(store, "village")
    for edge, down in (("front.shoulder", 1), ("back.shoulder", -1)):
        turned = after.seam_line(edge) - before.seam_line(edge)
        assert abs(turned) == pytest.approx(0.25 * INCH, abs=0.2)
        assert turned.imag * down > 0  # forward: lower on the front, higher on the back
    for edge in ("front.shoulder", "back.shoulder"):
        assert after.length(edge) == pytest.approx(before.length(edge), abs=NEAR)
    return after, ease


def _what_is_cut_cannot_take_the_sleeve(store: Trueup, wider: float) -> None:
    """The sleeve that is cut lacks at each seam what it was widened beyond its allowance."""
    document = store.made("alter", "blouse-1", "--json").document
    edges = {each["edge"]: each for piece in document["pieces"] for each in piece["edges"]}
    assert not any(document["cap_by_side"][side]["fits"] for side in SIDES)
    assert document["possible"] != "can"
    spare = 0.625 * INCH - 6.0  # an allowance of 5/8 in, of which 6 mm are to be left
    for seam in ("sleeve.back-seam", "sleeve.front-seam"):
        assert edges[seam]["lacking_mm"] == pytest.approx(wider / 2 - spare, abs=0.6)
    fronts = [f"{side}-front.{edge}" for side in SIDES for edge in ("armhole", "shoulder")]
    for edge in (*fronts, "back.shoulder"):
        assert edges[edge]["possible"] == "can"
