"""A line becomes too short for a mark on it: it is found, told of by name, and can be mended."""

import json
from pathlib import Path
from typing import Any

import ezdxf
import pytest

from tests.cli.sheet.pdf import read
from trueup.lineage.wardrobe import Wardrobe

STRAIGHT = ("redraw-edge", "--edge", "front.neck", "--through", "50%:0mm")


def neck(trueup: Any, node: str) -> float:
    (found,) = trueup.made("measure", node, "front.neck", "--json").document["measures"].values()
    return float(found)


def at(trueup: Any, node: str) -> str:
    return f"{round(neck(trueup, node) * 0.97, 1)}mm from neck-point"


def marks(trueup: Any, node: str, *words: str) -> None:
    mid = ("--edge", "front.neck", "--at", at(trueup, node), "--name", "mid")
    trueup.made("style", node, "mark-notch", *mid, *words)


@pytest.fixture
def lost(trueup: Any) -> Any:
    """Give a pattern whose own notch lies beyond the end of the line that it drew anew."""
    trueup.made("derive", "smock", "--from", "village")
    marks(trueup, "smock")
    trueup("style", "smock", *STRAIGHT, "--why", "a boat neck")
    return trueup


def found_at(trueup: Any, node: str) -> list[Any]:
    document = trueup("check", node, "--json").document
    return [each for each in document["findings"] if each["code"] == "beyond-end"]


def test_it_is_found_with_its_name_its_place_and_numbers(lost: Any) -> None:
    (found,) = found_at(lost, "smock")
    assert (found["piece"], found["edge"], found["severity"]) == ("front", "neck", "error")
    assert found["measured_mm"] - found["allowed_mm"][1] > 0.5
    told = " ".join(lost("check", "smock").out.split())
    assert "The notch mid of front.neck lies" in told
    assert "beyond the end of the line" in told


def test_what_is_drawn_and_exported_is_whole_and_says_what_it_lacks(
    lost: Any, tmp_path: Path
) -> None:
    says = "Not drawn, for its line is too short: the notch mid of front.neck."
    sheet = lost.made("sheet", "smock", str(tmp_path / "smock.pdf"))
    assert says in sheet.err
    assert any("front" in page.text for page in read((tmp_path / "smock.pdf").read_bytes()))
    for end in ("svg", "dxf", "png", "pdf", "csv", "json"):
        assert says in lost.made("export", "smock", str(tmp_path / f"x.{end}")).err
    document = json.loads((tmp_path / "x.json").read_text())
    (front,) = [piece for piece in document["pieces"] if piece["name"] == "front"]
    assert {n["name"]: n["point"] for n in front["notches"]}["mid"] is None
    assert "front.notch.mid" not in (tmp_path / "x.svg").read_text().split("<metadata")[0]
    assert ezdxf.readfile(tmp_path / "x.dxf").blocks
    lost.made("book", str(tmp_path / "book.html"))
    lost.made("compare", "village", "smock", "--picture", str(tmp_path / "both.svg"))
    lost.made("walk", "smock")
    lost.made("trace", str(tmp_path / "x.svg"), "again")
    assert len(found_at(lost, "again")) == 1


@pytest.mark.parametrize("remedy", ["move-mark", "drop-mark"])
def test_what_is_offered_was_tried_out_and_mends_it(lost: Any, remedy: str, tmp_path: Path) -> None:
    (found,) = found_at(lost, "smock")
    (conflict,) = lost("conflicts", found["id"], "--json").document["conflicts"]
    assert [each["name"] for each in conflict["remedies"]] == ["move-mark", "drop-mark", "accept"]
    picture = tmp_path / "conflict.svg"
    lost("conflicts", found["id"], "--picture", str(picture))
    assert "mid" in picture.read_text()
    lost.made("decide", found["id"], remedy, "--why", "so it is")
    assert found_at(lost, "smock") == []
    with Wardrobe.open(lost.folder) as wardrobe:
        notches = wardrobe.evaluator.draft("smock").piece("front").notches
    shares = [notch.at.share for notch in notches if notch.name == "mid"]
    assert shares == ([pytest.approx(0.97, abs=0.001)] if remedy == "move-mark" else [])
    assert lost.made("sheet", "smock", str(tmp_path / "smock.pdf")).err == ""


def test_a_correction_of_the_block_that_makes_its_own_line_too_short_is_a_conflict(
    trueup: Any,
) -> None:
    marks(trueup, "village")
    trueup.made("derive", "smock", "--from", "village")
    document = trueup("correct", "village", *STRAIGHT, "--json").document
    (conflict,) = [each for each in document["conflicts"] if "notch mid" in each["says"]]
    assert (conflict["arose_at"], conflict["piece"], conflict["edge"]) == (
        "village", "front", "neck",
    )  # fmt: skip
    (smock,) = [each for each in document["patterns"] if each["name"] == "smock"]
    assert conflict["id"] in smock["inherits"]
    names = [each["name"] for each in conflict["remedies"]]
    assert names[:2] == ["move-mark", "drop-mark"]
    trueup.made("decide", conflict["id"], "move-mark", "--why", "it stands for the loop")
    for node in ("village", "smock"):
        assert found_at(trueup, node) == []


def test_a_correction_beneath_leaves_a_step_out_and_offers_the_share_that_its_place_had(
    trueup: Any,
) -> None:
    trueup.made("derive", "smock", "--from", "village")
    marks(trueup, "smock")
    document = trueup("correct", "village", *STRAIGHT, "--json").document
    (smock,) = [each for each in document["patterns"] if each["name"] == "smock"]
    (conflict,) = smock["conflicts"]
    assert (conflict["kind"], conflict["piece"], conflict["edge"]) == (
        "impossible", "front", "neck",
    )  # fmt: skip
    assert conflict["remedies"][0]["name"] == "same-share"
    told = " ".join(trueup("conflicts", "smock").out.split())
    remedy = (
        'make the step "mark a notch" at 97% of the way from the neck point, the share of its '
        "line it had"
    )
    assert remedy in told
    trueup.made("decide", conflict["id"], "same-share", "--why", "as before")
    with Wardrobe.open(trueup.folder) as wardrobe:
        assert wardrobe.evaluator.summary("smock").problems == ()
        (notch,) = [
            n for n in wardrobe.evaluator.draft("smock").piece("front").notches if n.name == "mid"
        ]
    assert notch.at.share == pytest.approx(0.97, abs=0.001)
