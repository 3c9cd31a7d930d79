"""trueup sizes: three garments in eight sizes, true, printed over each other, and read back."""

from collections import defaultdict
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest

from tests.cli.conftest import Trueup, run
from tests.cli.restoring.story import git
from tests.cli.sheet.pdf import read
from tests.judging.sampled import length
from trueup.cli.sheet.nested import size_pen
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.pleats.laid_open import as_cut
from trueup.lineage.wardrobe import Wardrobe

# P: ASTM D5585-11e1, misses 4 to 18, bust and waist (curvy), inches, as shown on its page. Back and
# sleeve lengths were not visible there and are assumed.
MISSES = """# ASTM D5585-11e1, misses, curvy; lengths are assumed
size,bust,waist,back-length,sleeve-length
4,34 1/8in,26 1/8in,41cm,59cm
6,35 1/4in,27in,41cm,59cm
8,36 1/4in,28in,41cm,59cm
10,37 1/4in,29in,41cm,59cm
12,38 3/4in,30 3/4in,41cm,59cm
14,40 3/8in,32 1/2in,41cm,59cm
16,42 1/8in,34 1/2in,41cm,59cm
18,44in,36 3/4in,41cm,59cm
"""
# From memory: waists and hips 4 cm apart, as EN 13402-3 has them; the lengths are assumed.
SKIRTS = "size,waist,hip,hip-depth,skirt-length\n" + "".join(
    f"{34 + 2 * n},{60 + 4 * n}cm,{84 + 4 * n}cm,20cm,60cm\n" for n in range(8)
)
NAMES = ("4", "6", "8", "10", "12", "14", "16", "18")


@pytest.fixture(scope="module")
def sized(tmp_path_factory: pytest.TempPathFactory) -> Trueup:
    folder = tmp_path_factory.mktemp("sized")
    assert run("start", str(folder / "house"), "--unit", "cm").code == 0
    (folder / "misses.csv").write_text(MISSES)
    (folder / "skirts.csv").write_text(SKIRTS)
    trueup = Trueup(folder / "house")
    body = ("--bust", "88cm", "--waist", "70cm", "--back-length", "40cm", "--sleeve-length", "57cm")
    trueup.made("draft", "village", *body)
    hips = ("--waist", "68cm", "--hip", "94cm", "--hip-depth", "20cm", "--skirt-length", "60cm")
    trueup.made("draft", "hips", "--system", "straight-skirt", *hips)
    trueup.made("derive", "blouse", "--from", "village")
    trueup.made("style", "blouse", "lower-neck", "--piece", "front", "--by", "bust/40")
    side = ("--edge", "front.side", "--at", "35% from underarm")
    trueup.made("style", "blouse", "rotate-dart", "--dart", "front.bust", *side)
    trueup.made("style", "blouse", "lengthen", "--by", "15cm")
    trueup.made("derive", "vest", "--from", "village:front,back")
    trueup.made("style", "vest", "lower-neck", "--piece", "front", "--by", "4% of waist + 1cm")
    trueup.made("style", "vest", "widen-neck", "--by", "1cm")
    trueup.made("derive", "skirt", "--from", "hips")
    trueup.made("style", "skirt", "lengthen", "--by", "10% of hip")
    for name, table in (("blouse", "misses"), ("vest", "misses"), ("skirt", "skirts")):
        trueup.made("sizes", name, "--table", str(folder / f"{table}.csv"))
    return trueup


def names_of(garment: str) -> tuple[str, ...]:
    return NAMES if garment != "skirt" else tuple(str(34 + 2 * n) for n in range(8))


@pytest.mark.parametrize("garment", ["blouse", "vest", "skirt"])
def test_every_size_is_drafted_and_true(sized: Trueup, garment: str) -> None:
    for size in names_of(garment):
        answer = sized("check", f"{garment}-{size}")
        assert answer.code == 0, answer.out


def drawn(piece: Piece) -> float:
    """Return the length of all seam lines and darts of a piece, sampled, but for the fold."""
    outline = sum(length(edge) for edge in piece.edges if edge.name != piece.fold)
    mouths = [mouth for edge in piece.edges for mouth in edge.mouths]
    legs = sum(abs(m.tip - m.first) + abs(m.second - m.tip) for m in mouths)
    rings = [(d.upper, d.right, d.lower, d.left, d.upper) for d in piece.inner_darts]
    return outline + legs + sum(abs(b - a) for ring in rings for a, b in pairwise(ring))


@pytest.mark.parametrize("garment", ["blouse", "vest", "skirt"])
def test_sizes_are_printed_nested_and_read_back_at_their_lengths(
    sized: Trueup, garment: str, tmp_path: Path
) -> None:
    file = tmp_path / "nest.pdf"
    paper = ("--paper", "150cm", "--lines", "seam")
    sized.made("sheet", garment, str(file), "--sizes", *paper)
    found: dict[tuple[float, ...], float] = defaultdict(float)
    words = []
    for page in read(file.read_bytes()):
        words += [word["text"] for word in page.words]
        for line in page.lines:
            # A sample in the legend is 22 mm long.
            if abs(line.length - 22) > 1e-3:
                found[tuple(round(each, 1) for each in line.dashes)] += line.length
    with Wardrobe.open(sized.folder) as wardrobe:
        for place, size in enumerate(names_of(garment)):
            pieces = as_cut(wardrobe.evaluator.draft(f"{garment}-{size}")).pieces
            assert words.count(size) >= len(pieces)
            dashes = size_pen(place).dashes
            if dashes:  # notches and crosses are drawn whole as well
                expected = sum(map(drawn, pieces))
                assert found[dashes] == pytest.approx(expected, rel=1e-3, abs=1.0), size


def test_lines_are_told_apart_without_colour() -> None:
    pens = [size_pen(place) for place in range(24)]
    assert len(set(pens)) == 24
    assert len({pen.dashes for pen in pens[:8]}) == 8
    for pen in pens:  # dark enough on paper by itself
        assert sum(pen.colour) / 3 < 0.3


def test_it_is_one_commit_and_reads_its_table_again(sized: Trueup, tmp_path: Path) -> None:
    before = sized.contents()
    again = sized("sizes", "blouse", "--table", str(sized.folder.parent / "misses.csv"))
    assert again.code == 2
    assert "has the sizes of this table already" in again.err
    assert sized.contents() == before
    message = git(sized.folder, "log", "-3", "--format=%s").splitlines()
    assert message[1] == f"Make the sizes of vest: {', '.join(NAMES)}"
    assert message[0].startswith("Make the sizes of skirt")


def test_growth_is_read_between_sizes(sized: Trueup) -> None:
    document = sized.made("compare", "blouse", "--sizes", "--json").document
    assert document["sizes"] == list(NAMES)
    with Wardrobe.open(sized.folder) as wardrobe:
        sides = [
            length(wardrobe.evaluator.draft(f"blouse-{size}").piece("front").edge("hem"))
            for size in NAMES
        ]
    (hem,) = [each for each in document["measures"] if each["name"] == "front.hem"]
    steps = [b - a for a, b in pairwise(sides)]
    assert hem["steps_mm"] == pytest.approx(steps, abs=0.05)
    assert hem["uneven_at"] == []


@pytest.fixture
def house(trueup: Any, tmp_path: Path) -> Any:
    (tmp_path / "sizes.csv").write_text(
        "size,bust,waist,back-length,sleeve-length\ns,84,64,37,53\nm,88,68,38,54\nl,92,72,39,55\n"
    )
    trueup.made("correct", "village", "slope-shoulder", "--by", "3mm")
    trueup.made("sizes", "own", "--table", str(tmp_path / "sizes.csv"))
    return trueup


def test_a_run_follows_the_corrections_of_its_block_and_the_style(house: Any) -> None:
    fit = house.made("correct", "village", "slope-shoulder", "--by", "2mm", "--json").document
    verdicts = {each["name"]: each["verdict"] for each in fit["patterns"]}
    for size in "sml":
        assert verdicts[f"village-{size}"] == "carried"
        assert verdicts[f"own-{size}"] == "carried"
    style = house.made("style", "own", "lengthen", "--by", "6cm", "--json").document
    told = {each["name"]: each["verdict"] for each in style["patterns"]}
    assert told == {f"own-{size}": "carried" for size in "sml"}
    with Wardrobe.open(house.folder) as wardrobe:
        kinds = [each.kind for each in wardrobe.evaluator.worked("village-s").steps]
    assert kinds == ["slope-shoulder", "slope-shoulder"]


def test_a_changed_table_measures_anew_and_adds(house: Any, tmp_path: Path) -> None:
    (tmp_path / "sizes.csv").write_text(
        "size,bust,waist,back-length,sleeve-length\ns,84,65,37,53\nxl,98,78,40,56\n"
    )
    out = house.made("sizes", "own", "--table", str(tmp_path / "sizes.csv")).out
    assert "own-xl" in out
    listed = house.made("sizes", "own", "--json").document
    assert [each["size"] for each in listed["sizes"]] == ["s", "m", "l", "xl"]
    assert listed["sizes"][0]["body_mm"]["waist"] == 650
    house.made("undo")
    listed = house.made("sizes", "own", "--json").document
    assert [each["size"] for each in listed["sizes"]] == ["s", "m", "l"]


def test_each_size_that_is_measured_anew_has_its_verdict(house: Any, tmp_path: Path) -> None:
    house.made("style", "own", "lengthen", "--by", "12% of waist")
    house.made("style", "own-l", "redraw-edge", "--edge", "front.armhole", "--through", "50%:30mm")
    alone = {}
    for size, measured in (("s", ("--waist", "66cm")), ("l", ("--bust", "94cm"))):
        document = house.made("remeasure", f"village-{size}", *measured, "--preview", "--json")
        (alone[size],) = document.document["patterns"]
    table = tmp_path / "sizes.csv"
    table.write_text(
        "size,bust,waist,back-length,sleeve-length\ns,84,66,37,53\nm,88,68,38,54\nl,94,72,39,55\n"
    )
    with Wardrobe.open(house.folder) as wardrobe:
        before = wardrobe.evaluator.draft("own-s")
    words = ("sizes", "own", "--table", str(table))
    previewed = house.made(*words, "--preview", "--json").document
    told = {each["name"]: each for each in previewed["patterns"]}
    # As each comes to where that size is measured anew by itself; the size that was not has none.
    assert told == {"own-s": alone["s"], "own-l": alone["l"]}
    assert told["own-l"]["verdict"] == "conflict"
    house.made(*words)
    with Wardrobe.open(house.folder) as wardrobe:
        after = wardrobe.evaluator.draft("own-s")
    found = {each["name"]: each["got_mm"] for each in told["own-s"]["measures"]}
    for piece in ("front", "back"):
        grew = length(after.piece(piece).edge("hem")) - length(before.piece(piece).edge("hem"))
        assert found[f"{piece}.hem"] == pytest.approx(grew, abs=0.02)
    history = house.made("history", "--effects").out
    assert "village-s drafted anew: waist 64cm -> 66cm" in history
    assert "village-l drafted anew: bust 92cm -> 94cm" in history
    document = house.made("history", "--effects", "--json").document["history"][0]
    assert {each["name"]: each["verdict"] for each in document["patterns"]} == {
        name: each["verdict"] for name, each in told.items()
    }


def test_an_uneven_step_is_told(house: Any, tmp_path: Path) -> None:
    house.made("style", "own-l", "lengthen", "--by", "4cm")
    out = house.made("compare", "own", "--sizes").out
    assert "!" in out
    assert "not grow evenly" in out


def test_other_verbs_work_on_a_size(house: Any, tmp_path: Path) -> None:
    for words in (
        ("tree",),
        ("explain", "own-s"),
        ("history", "own-s"),
        ("origin", "village-s"),
        ("report",),
        ("shared", "--all"),
        ("compare", "own", "own-l"),
        ("sheet", "own-s", str(tmp_path / "one.pdf")),
        ("book", str(tmp_path / "book.html")),
        ("cut", "own-s", "--wearer", "Eve", "--name", "eves"),
        ("remeasure", "village-s", "--bust", "85cm"),
        ("alter", "eves"),
    ):
        answer = house(*words)
        assert answer.code in (0, 1), (words, answer.err)
    assert "corrections of village" in house("tree").out


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("size,bust\ns,84\n", "no column waist"),
        ("size,bust,waist,back-length,sleeve-length,inseam\ns,84,64,37,53,80\n", "inseam"),
        ("size,bust,waist,back-length,sleeve-length\ns,nan,64,37,53\n", "size s"),
        ("size,bust,waist,back-length,sleeve-length\ns,84m,64,37,53\n", "size s"),
        ("size,bust,waist,back-length,sleeve-length\ns,840,64,37,53\n", "size s"),
        ("size,bust,waist,back-length,sleeve-length\n", "no size"),
    ],
)
def test_a_bad_table_is_one_sentence_and_nothing_written(
    trueup: Any, tmp_path: Path, text: str, says: str
) -> None:
    file = tmp_path / "bad.csv"
    file.write_text(text)
    before = trueup.contents()
    answer = trueup("sizes", "own", "--table", str(file))
    assert answer.code == 2
    assert says in answer.err
    assert len(answer.err.strip().splitlines()) == 1
    assert trueup.contents() == before


@pytest.mark.parametrize(
    "words",
    [
        ("sizes", "own", "--table", "nowhere.csv"),
        ("sizes", "nothing"),
        ("sizes", "own", "--preview"),
        ("compare", "own", "--sizes"),
        ("compare", "own", "vest", "--sizes"),
        ("sheet", "own", "x.pdf", "--sizes"),
        ("sheet", "own", "x.pdf", "--sizes", "--since", "HEAD~1"),
    ],
)
def test_what_cannot_be_asked_is_one_sentence(trueup: Any, words: tuple[str, ...]) -> None:
    answer = trueup(*words)
    assert answer.code == 2
    assert len(answer.err.strip().splitlines()) == 1
