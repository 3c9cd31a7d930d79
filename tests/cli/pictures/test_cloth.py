"""Pictures of cut garments, of every garment of the sample wardrobe and by the whole command."""

import re
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest

from tests.cli.drawing.legible import SVG, assert_legible
from tests.cli.trouble.test_bad_input import refused
from trueup.cli.drawing.scene.scene import Scene
from trueup.cli.drawing.scene.writer import svg_text
from trueup.cli.main import main
from trueup.cli.opening import OpenToRead, reading
from trueup.cli.pictures.cloth import alteration_pictures, alteration_scene, cloth_alone
from trueup.cli.render.garments.alteration import edge_words
from trueup.geometry.cloth.cloth_areas import cloth_areas
from trueup.geometry.cloth.cut_cloth import Reason
from trueup.geometry.units import Unit
from trueup.lineage.garments.alteration import Asked, asked_of
from trueup.lineage.garments.answers import Alteration


@pytest.fixture(scope="module")
def sample(tmp_path_factory: pytest.TempPathFactory) -> Iterator[OpenToRead]:
    folder = tmp_path_factory.mktemp("sample") / "store"
    assert main(["demo", str(folder)]) == 0
    with reading(folder) as opened:
        yield opened


@pytest.fixture(scope="module")
def answers(sample: OpenToRead) -> Mapping[str, tuple[Asked, Alteration]]:
    """What can be done on each garment's cloth: it is the same in every unit."""
    asked = {name: asked_of(sample.wardrobe, name) for name in sample.state.garments}
    return {name: (each, each.answer()) for name, each in asked.items()}


def legible(scene: Any) -> ElementTree.Element:
    root = ElementTree.fromstring(svg_text(scene).encode("utf-8"))
    assert_legible(root)
    return root


def words(root: ElementTree.Element) -> list[str]:
    return [each.text or "" for each in root.iter(f"{SVG}text")]


def ids(root: ElementTree.Element) -> dict[str, ElementTree.Element]:
    return {each.attrib["id"]: each for each in root.iter() if "id" in each.attrib}


@pytest.mark.parametrize("unit", [Unit.MILLIMETRE, Unit.INCH])
def test_every_garment_of_the_sample_has_a_picture_that_reads(
    answers: Mapping[str, tuple[Asked, Alteration]], unit: Unit
) -> None:
    assert len(answers) > 15
    seen = set()
    for asked, found in answers.values():
        root = legible(alteration_scene(asked, found, unit, is_preview=False))
        said = words(root)
        listed = edge_words(found, unit)
        for number, edge in enumerate(listed, start=1):
            assert {edge.edge, edge.can, edge.asked, edge.cloth} <= set(said)
            assert ids(root)[f"mark.{number}"].findtext(f"{SVG}text") == str(number)
        assert f"mark.{len(listed) + 1}" not in ids(root)
        assert ("nothing to alter" in " ".join(said)) is found.stays
        seen |= {found.stays, *(edge.can for edge in listed)}
    # One to which nothing is to be done, one that lacks cloth and one stitched down are among them.
    assert {True, False, "+ can", "~ partly", "! cannot"} <= seen


def test_what_is_hatched_is_what_the_numbers_tell(sample: OpenToRead) -> None:
    asked = asked_of(sample.wardrobe, "maid-white")
    found = asked.answer()
    root = legible(alteration_scene(asked, found, Unit.MILLIMETRE, is_preview=False))
    for answer in found.pieces:
        cloth, old = asked.cloth[answer.piece], asked.old.piece(answer.piece)
        areas = cloth_areas(cloth, old, asked.new.piece(answer.piece), answer)
        lacks = any(edge.reason is Reason.CLOTH for edge in answer.edges)
        assert (f"{answer.piece}.lacking" in ids(root)) is lacks is not areas.lacking.is_empty
        assert (f"{answer.piece}.cut-off" in ids(root)) is not areas.cut_off.is_empty
    assert "sleeve.lacking" in ids(root)
    assert "front.cut-off" in ids(root)


def test_cloth_that_cannot_be_compared_is_drawn_as_it_was_cut(sample: OpenToRead) -> None:
    asked = asked_of(sample.wardrobe, "ball-ivory")
    drawn = cloth_alone(asked.garment, asked.cloth)
    roots = [legible(scene) for scene in drawn.pieces]
    found = {name for root in roots for name in ids(root)}
    assert {"front.cloth", "back.cloth", "sleeve.cloth"} <= found
    assert [entry.text for entry in drawn.key] == ["the cloth as it was cut"]


def test_on_a_page_the_same_is_drawn_without_a_sentence(sample: OpenToRead) -> None:
    asked = asked_of(sample.wardrobe, "maid-white")
    found = asked.answer()
    whole = ids(legible(alteration_scene(asked, found, Unit.MILLIMETRE, is_preview=False)))
    pictures = alteration_pictures(asked, found, Unit.MILLIMETRE)
    roots = [legible(scene) for scene in pictures.pieces]
    assert {name for root in roots for name in ids(root)} == set(whole)
    said = {word for root in roots for word in words(root)}
    names = {piece.name for piece in asked.old.pieces}
    assert not {word for word in said if " " in word and not word.startswith("cut ")}
    assert names <= said
    numbers = {str(n) for n, _ in enumerate(edge_words(found, Unit.MILLIMETRE), start=1)}
    assert numbers <= said


def test_no_sign_is_cut_off_by_the_edge_of_its_picture(
    answers: Mapping[str, tuple[Asked, Alteration]],
) -> None:
    for name, (asked, found) in answers.items():
        for scene in alteration_pictures(asked, found, Unit.MILLIMETRE).pieces:
            for sign, left, top, right, bottom in signs(scene):
                inside = left >= 0 and top >= 0 and right <= scene.width and bottom <= scene.height
                assert inside, (name, scene.title, sign)


def signs(scene: Scene) -> Iterator[tuple[str, float, float, float, float]]:
    """Yield each numbered sign of a picture with the box of its outline."""
    for group in ids(ElementTree.fromstring(svg_text(scene))).values():
        if group.attrib["id"].startswith("mark."):
            for disc in group.iter(f"{SVG}circle"):
                x, y, r = (float(disc.attrib[each]) for each in ("cx", "cy", "r"))
                yield group.attrib["id"], x - r, y - r, x + r, y + r
            for path in group.iter(f"{SVG}path"):
                places = re.findall(r"(-?[\d.]+),(-?[\d.]+)", path.attrib["d"])
                across, down = [float(x) for x, _ in places], [float(y) for _, y in places]
                yield group.attrib["id"], min(across), min(down), max(across), max(down)


# --- by the whole command ---------------------------------------------------------------------


@pytest.fixture
def cut(trueup: Any) -> Any:
    """A wardrobe in inches, a blouse cut from it, its armhole corrected since."""
    settings = trueup.folder / "wardrobe.toml"
    settings.write_text('format = 1\nname = "theatre"\nunit = "in"\n')
    for piece in ("front", "back", "sleeve"):
        trueup.made("style", "blouse", "seam-allowance", "--piece", piece, "--by", "15mm")
    trueup.made("cut", "blouse")
    trueup.made("correct", "village", "scoop-armhole", "--piece", "front", "--by", "8mm")
    return trueup


def test_the_picture_says_what_the_command_says(cut: Any, tmp_path: Path) -> None:
    file = tmp_path / "blouse.svg"
    before = cut.contents()
    out = cut.made("alter", "blouse-1", "--picture", str(file)).out
    assert out.endswith(f"Drew it in {file}.\n")
    assert cut.contents() == before
    root = ElementTree.parse(file).getroot()
    assert_legible(root)
    said = words(root)
    assert said[0] == out.splitlines()[0]
    row = next(line for line in out.splitlines() if line.startswith("front.armhole"))
    cells = [cell for cell in row.split("  ") if cell]
    assert {cell.strip() for cell in cells} <= set(said)
    assert " in" in row


def test_json_is_the_same_with_a_picture_and_without(cut: Any, tmp_path: Path) -> None:
    file = tmp_path / "blouse.png"
    plain = cut.made("alter", "blouse-1", "--json").out
    assert cut.made("alter", "blouse-1", "--json", "--picture", str(file)).out == plain
    assert file.read_bytes().startswith(b"\x89PNG")


def test_a_fitting_is_drawn_before_it_is_recorded(cut: Any, tmp_path: Path) -> None:
    fitting, file = tmp_path / "fitting.toml", tmp_path / "blouse.svg"
    fitting.write_text('[[corrections]]\nkind = "add-ease"\nby = "70mm"\n')
    cut.made("alter", "blouse-1", "--from", str(fitting), "--picture", str(file))
    said = words(ElementTree.parse(file).getroot())
    assert "seam line as the fitting would have it" in said
    assert "As if the fitting were made; nothing is recorded." in said


def test_no_picture_is_written_over_nor_under_another_name(cut: Any, tmp_path: Path) -> None:
    file = tmp_path / "blouse.svg"
    file.write_text("mine")
    assert "is there already" in refused(cut, "alter", "blouse-1", "--picture", str(file))
    assert file.read_text() == "mine"
    cut.made("alter", "blouse-1", "--picture", str(file), "--force")
    assert file.read_text() != "mine"
    wrong = str(tmp_path / "blouse.pdf")
    assert "not named as a picture" in refused(cut, "alter", "blouse-1", "--picture", wrong)


def test_a_garment_of_a_deleted_pattern_is_refused_and_not_drawn(cut: Any, tmp_path: Path) -> None:
    (cut.folder / "patterns/blouse.toml").unlink()
    file = tmp_path / "blouse.svg"
    assert "was deleted since" in refused(cut, "alter", "blouse-1", "--picture", str(file))
    assert not file.exists()
