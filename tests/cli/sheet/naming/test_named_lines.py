"""What is written at the lines of a piece: beside its line, on its piece, overlapping nothing."""

import re
from collections import Counter
from collections.abc import Iterator
from functools import lru_cache

import pytest
import shapely

from tests.cli.sheet.naming.seen import Seen, edge_on_area, met, seen
from tests.cli.sheet.printed import A3, A4, LETTER, ROLL, draft
from trueup.cli.sheet.ink.drawn import InkPen
from trueup.cli.sheet.laying.layout import Laid
from trueup.cli.sheet.laying.paper import Paper
from trueup.cli.sheet.piece_lines import Layer
from trueup.geometry.lines.chain import Chain
from trueup.geometry.pieces.allowances import allowed
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.pleats.laid_open import as_cut
from trueup.lineage.evaluation.evaluate import Evaluator
from trueup.sample_wardrobe.examples import garment

PAPERS = (A4, LETTER, A3, ROLL)
GARMENTS = ("shirt", "footman-coat", "trousers", "puff-sleeve-dress", "hooded-top")
NEAR = 16.0
"""A letter stands no farther than this from its line, mm."""


@lru_cache(maxsize=4)
def on_paper(paper: Paper) -> Seen:
    return seen(draft(), paper)


@lru_cache(maxsize=1)
def sewn_garment(name: str) -> tuple[Draft, Seen]:
    example = garment(name)
    made = as_cut(Evaluator(example.state).draft(example.node.name))
    return made, seen(made, ROLL)


def is_letter(text: str) -> bool:
    return re.fullmatch(r"[A-Z]{1,2}", text.strip()) is not None


def letters_on(sheet: Seen, laid: Laid) -> Iterator[tuple[str, str, float]]:
    """Yield each letter on a piece, the edge that it is nearest to, and how far it is from that."""
    for _, words, room in sheet.on(laid):
        if words.is_bold and is_letter(words.text):
            away = {e.name: edge_on_area(laid, e).distance(room) for e in laid.piece.edges}
            nearest = min(away, key=away.__getitem__)
            yield words.text.strip(), nearest, away[nearest]


def lettered_lines(sheet: Seen) -> dict[tuple[str, str], list[str]]:
    found: dict[tuple[str, str], list[str]] = {}
    for laid in sheet.found.layout.pieces:
        for letter, edge, away in letters_on(sheet, laid):
            assert away < NEAR, f"{letter} on {laid.piece.name}"
            found.setdefault((laid.piece.name, edge), []).append(letter)
    return found


def require_matching(made: Draft, found: dict[tuple[str, str], list[str]]) -> None:
    """Require that each line has the letters of its seams, and no two seams share one by chance."""
    letters: dict[str, str] = {}
    expected: Counter[tuple[str, str]] = Counter()
    for seam in made.seams:
        lines = {(run.piece, run.edge) for run in (*seam.side, *seam.mate)}
        shared = set.intersection(*({*found.get(line, ())} for line in lines))
        assert shared, f"no letter is on every line of {seam.name}"
        letters[seam.name] = ",".join(sorted(shared))
        if seam.worn is None or seam.name.startswith("left"):
            expected.update(lines)
    alike = Counter(name.removeprefix("left-").removeprefix("right-") for name in letters)
    assert len({*letters.values()}) == len(alike)
    for line, there in found.items():
        assert len(there) == len({*there}), f"{line} carries {there}"


@pytest.mark.parametrize("paper", PAPERS, ids=str)
def test_lines_that_are_sewn_together_carry_the_same_letter(paper: Paper) -> None:
    require_matching(draft(), lettered_lines(on_paper(paper)))


@pytest.mark.parametrize("name", GARMENTS)
def test_in_garments_of_many_seams_they_do(name: str) -> None:
    made, sheet = sewn_garment(name)
    require_matching(made, lettered_lines(sheet))


def _overlaps(sheet: Seen) -> Iterator[str]:
    for laid in sheet.found.layout.pieces:
        cloth = laid.cloth.buffer(0.01)
        for page, words, room in sheet.on(laid):
            name = f"{words.text} on {laid.piece.name}"
            if not cloth.covers(room):
                yield f"{name} is not inside the seam"
            for other in met(page, words.room):
                yield f"{name} overlaps {other}"


@pytest.mark.parametrize("paper", PAPERS, ids=str)
def test_no_word_lies_on_a_line_a_notch_a_dart_or_another_word(paper: Paper) -> None:
    assert list(_overlaps(on_paper(paper))) == []


@pytest.mark.parametrize("name", GARMENTS)
def test_in_garments_of_many_lines_none_does(name: str) -> None:
    assert list(_overlaps(sewn_garment(name)[1])) == []


def test_a_letter_stands_near_the_middle_of_its_line() -> None:
    sheet = on_paper(ROLL)
    for laid in sheet.found.layout.pieces:
        for _, words, room in sheet.on(laid):
            if not (words.is_bold and is_letter(words.text)):
                continue
            edge = min(laid.piece.edges, key=lambda e: edge_on_area(laid, e).distance(room))
            middle = laid.motion(edge.point_at(edge.length / 2))
            off = room.centroid.distance(shapely.Point(middle.real, middle.imag))
            assert off < max(20.0, edge.length / 6), f"{words.text} on {laid.piece.name}"


def test_the_key_on_the_cover_says_what_each_letter_sews() -> None:
    sheet = on_paper(ROLL)
    (page,) = sheet.pages
    told = [words for words in page.words if words.text.startswith("= ")]
    key = {}
    for each in told:
        beside = [
            w
            for w in page.words
            if is_letter(w.text)
            and abs(w.room.centroid.y - each.room.centroid.y) < 1
            and 0 < each.room.bounds[0] - w.room.bounds[2] < 12
        ]
        (letter,) = beside
        key[letter.text.strip()] = each.text.strip()
    lines = lettered_lines(sheet)
    assert len(key) == len(draft().seams)
    for seam in draft().seams:
        side, mate = (", ".join(f"{r.piece}.{r.edge}" for r in s) for s in (seam.side, seam.mate))
        (letter,) = (letter for letter, says in key.items() if says == f"= {side} with {mate}")
        assert letter in lines[seam.side[0].piece, seam.side[0].edge]


@pytest.mark.parametrize("paper", PAPERS, ids=str)
def test_every_page_that_shows_a_good_length_of_the_fold_says_so_along_it(paper: Paper) -> None:
    sheet = on_paper(paper)
    laid = next(each for each in sheet.found.layout.pieces if each.piece.fold)
    fold = edge_on_area(laid, laid.piece.edge(str(laid.piece.fold)))
    (ends,) = shapely.get_coordinates(shapely.line_merge(fold))[[0, -1]].reshape(1, 4)
    along = complex(ends[2] - ends[0], ends[3] - ends[1])
    along /= abs(along)
    for page in sheet.pages:
        told = [each for each in page.words if each.text.strip() == "FOLD"]
        folds = [e for e in page.lines.in_pen(InkPen.FOLD) if e.length > 30]
        shown = sum(line.length for line in folds if page.on_area(line.line).distance(fold) < 0.1)
        assert len(told) == 1 if shown > 100 else len(told) <= 1
        for each in told:
            assert abs(each.across * along.real + each.down * along.imag) > 0.999
            assert page.on_area(each.room).distance(fold) < 4


@pytest.mark.parametrize("paper", PAPERS, ids=str)
def test_grain_is_said_once_along_each_grainline(paper: Paper) -> None:
    sheet = on_paper(paper)
    for laid in sheet.found.layout.pieces:
        grain = laid.piece.grainline
        assert grain
        start, end = laid.motion(grain.start), laid.motion(grain.end)
        line = shapely.LineString([(start.real, start.imag), (end.real, end.imag)])
        ((_, words, room),) = (e for e in sheet.on(laid) if e[1].text.strip() == "GRAIN")
        assert room.distance(line) < 4
        assert line.buffer(10).contains(room)
        assert abs(words.across) < 0.001


def test_each_centre_is_named_beside_itself() -> None:
    sheet = on_paper(ROLL)
    expected = {"front": "CENTRE FRONT", "back": "CENTRE BACK", "sleeve": None}
    for laid in sheet.found.layout.pieces:
        told = [e for e in sheet.on(laid) if e[1].text.startswith("CENTRE")]
        assert [e[1].text.strip() for e in told] == [
            each for each in (expected[laid.piece.name],) if each
        ]
        for _, _, room in told:
            assert edge_on_area(laid, laid.piece.edge("centre")).distance(room) < 10


@pytest.mark.parametrize("paper", PAPERS, ids=str)
def test_each_level_is_named_where_it_lies(paper: Paper) -> None:
    sheet = on_paper(paper)
    for laid in sheet.found.layout.pieces:
        for level in laid.piece.levels:
            ((page, _, room),) = (e for e in sheet.on(laid) if e[1].text.strip() == level.name)
            if level.along:
                assert edge_on_area(laid, laid.piece.edge(level.along)).distance(room) < NEAR
                continue
            assert abs(room.centroid.y - laid.motion(complex(0, level.y)).imag) < 0.6
            ticks = [page.on_area(line.line) for line in page.lines.in_pen(InkPen.LEVEL)]
            assert min(tick.distance(room) for tick in ticks) < 80


def test_a_level_is_told_by_lines_at_its_own_height_from_side_to_side() -> None:
    sheet = on_paper(ROLL)
    (page,) = sheet.pages
    drawn = shapely.union_all(
        [page.on_area(e.line) for e in page.lines.in_pen(InkPen.LEVEL) if e.length < 20]
    )
    for laid in sheet.found.layout.pieces:
        for level in laid.piece.levels:
            if level.along:
                continue
            y = laid.motion(complex(0, level.y)).imag
            across = laid.cloth.intersection(shapely.LineString([(-1e4, y), (1e4, y)]))
            left, _, right, _ = across.bounds
            for x in (left, right):
                assert drawn.distance(shapely.Point(x, y)) < 0.05
            assert drawn.intersection(across.buffer(0.02)).length == pytest.approx(24, abs=0.2)


def test_with_cutting_lines_alone_the_letters_are_there_too() -> None:
    sheet = seen(draft(), ROLL, Layer.CUTTING)
    require_matching(draft(), lettered_lines(sheet))
    assert list(_overlaps(sheet)) == []


def test_the_judge_sees_a_word_on_a_line() -> None:
    sheet = on_paper(ROLL)
    (page,) = sheet.pages
    seam = max(page.lines.in_pen(InkPen.SEAM), key=lambda line: line.length)
    on_it = seam.line.interpolate(0.5, normalized=True).buffer(2)
    assert any("a line" in each for each in met(page, on_it))
    words = next(each for each in page.words if each.text.strip() == "GRAIN")
    assert "the words GRAIN" in " ".join(met(page, words.room.buffer(0.1)))


@pytest.mark.parametrize("allowance", [0.0, 20.0, 190.0])
@pytest.mark.parametrize("paper", [A4, ROLL], ids=str)
def test_a_piece_too_small_for_words_has_its_label_all_the_same(
    paper: Paper, allowance: float
) -> None:
    corners = {"a": 0j, "b": 6 + 0j, "c": 6 + 6j, "d": 6j}
    sides = ("top", "a", "b"), ("right", "b", "c"), ("hem", "c", "d"), ("left", "d", "a")
    edges = (Edge(n, a, b, (Chain.line(corners[a], corners[b]),)) for n, a, b in sides)
    tiny = allowed(Piece("tiny", tuple(edges)), {name: allowance for name, *_ in sides})
    sheet = seen(Draft((tiny,)), paper)
    texts = [words.text.strip() for page in sheet.pages for words in page.words]
    assert texts.count("garment: tiny") == 1
