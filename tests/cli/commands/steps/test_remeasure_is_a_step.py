"""A re-measuring has an id, a day and a reason of its own, and a fit note can say it mended it."""

import datetime
from pathlib import Path
from typing import Any

import tomli

from tests.cli.conftest import Trueup
from tests.cli.trouble.test_bad_input import refused
from tests.cli.trouble.test_bodies import clone
from trueup.lineage.wardrobe import Wardrobe

BROADER = ("remeasure", "village", "--bust", "93cm", "--why", "a year later")
NOTE = ("note", "blouse-1", "bust-tight", "--place", "bust")


def anew(trueup: Any, node: str = "village") -> list[dict[str, Any]]:
    return list(trueup.made("history", node, "--json").document["remeasured"])


def worn(trueup: Any) -> str:
    trueup.made("cut", "blouse", "--wearer", "Ada")
    return str(trueup.made(*NOTE, "--json").document["note"]["id"])


def test_the_file_of_the_block_keeps_from_what_when_and_why(trueup: Any) -> None:
    document = trueup.made(*BROADER, "--json").document
    (made,) = anew(trueup)
    file = tomli.loads((trueup.folder / "blocks/village.toml").read_text())
    today = datetime.date.today()
    assert file["remeasured"] == [
        {"id": made["id"], "was": {"bust": "88cm"}, "why": "a year later", "date": today}
    ]
    assert document["correction"]["verb"] == "remeasure"
    (newest, *_) = trueup.made("history", "--json").document["history"]
    assert newest["steps"] == [made["id"]]
    out = trueup.made("history", "village").out
    assert f"re-measured on {today} ({made['id']}), bust was 88cm: a year later" in out
    for words in (("explain", "blouse"), ("history", "village", "--effects"), ("report",)):
        assert made["id"] in trueup.made(*words).out.replace("\\", "")


def test_each_has_its_own_id_and_undo_takes_it_away(trueup: Any) -> None:
    trueup.made(*BROADER)
    trueup.made("remeasure", "village", "--bust", "88cm")
    trueup.made(*BROADER)
    ids = [each["id"] for each in anew(trueup)]
    assert len(set(ids)) == 3
    trueup.made("undo")
    assert [each["id"] for each in anew(trueup)] == ids[:2]


def test_a_preview_and_its_step_agree_about_the_id(trueup: Any) -> None:
    shown = trueup.made(*BROADER, "--preview", "--json").document
    done = trueup.made(*BROADER, "--json").document
    assert shown["correction"]["says"] == done["correction"]["says"]
    assert len(anew(trueup)) == 1


def test_a_note_is_mended_in_the_same_step(trueup: Any) -> None:
    note = worn(trueup)
    out = trueup.made(*BROADER, "--mends", note).out
    assert f"mends {note}" in out
    (made,) = anew(trueup)
    told = trueup.made("garment", "blouse-1", "--json").document
    assert told["garment"]["notes"][0]["resolved_by"] == [made["id"]]
    assert told["dropped_corrections"] == {}
    entry = trueup.made("history", "village", "--effects", "--json").document["history"][0]
    assert entry["mended"] == [{"garment": "blouse-1", "note": note}]
    trueup.made("undo")
    assert trueup.made("garment", "blouse-1", "--json").document["garment"]["open_notes"] == [note]


def test_or_afterwards_as_the_garment_offers(trueup: Any) -> None:
    note = worn(trueup)
    trueup.made(*BROADER)
    (made,) = anew(trueup)
    shown = trueup.made("garment", "blouse-1").out
    assert f"resolve {note} --by {made['id']}" in shown
    trueup.made("resolve", note, "--by", made["id"])
    assert "mended by" in trueup.made("garment", "blouse-1").out
    assert (
        f"mended on blouse-1: bust tight ({note})"
        in trueup.made("history", "village", "--effects").out
    )


def test_what_cannot_have_mended_is_refused(trueup: Any) -> None:
    trueup.made(*BROADER)
    (made,) = anew(trueup)
    note = worn(trueup)
    assert "was in village already when blouse-1 was cut" in refused(
        trueup, "resolve", note, "--by", made["id"]
    )
    assert made["id"] in refused(trueup, "resolve", note, "--by", "nosuch")
    trueup.made("draft", "other", "--bust", "88", "--waist", "68", "--back-length", "38",
                "--sleeve-length", "54")  # fmt: skip
    said = refused(trueup, "remeasure", "other", "--bust", "90", "--mends", note)
    assert "does not derive from other" in said


def test_that_which_is_taken_out_by_hand_mends_nothing_any_more(trueup: Any) -> None:
    note = worn(trueup)
    trueup.made(*BROADER, "--mends", note)
    (made,) = anew(trueup)
    file = trueup.folder / "blocks/village.toml"
    file.write_text(file.read_text().partition("[[remeasured]]")[0])
    taken = trueup("keep", "blocks/village.toml", "--why", "a mistake")
    assert taken.code == 0, taken.err
    told = trueup.made("garment", "blouse-1", "--json").document
    assert told["dropped_corrections"] == {note: [made["id"]]}


def test_two_makers_re_measurings_are_both_kept(trueup: Any, tmp_path: Path) -> None:
    trueup.made("remeasure", "village", "--sleeve-length", "55cm")
    there: Trueup = clone(trueup, tmp_path / "other")
    there.made(*BROADER)
    trueup.made("remeasure", "village", "--waist", "71cm", "--why", "tight")
    trueup.made("mend", str(there.folder))
    assert [sorted(each["was"]) for each in anew(trueup)] == [
        ["sleeve-length"],
        ["waist"],
        ["bust"],
    ]
    with Wardrobe.open(trueup.folder) as wardrobe:
        draft = wardrobe.state.node("village").draft
    assert draft is not None
    assert (draft.body["bust"], draft.body["waist"]) == ("93cm", "71cm")


def test_the_same_made_by_two_is_one(trueup: Any, tmp_path: Path) -> None:
    there: Trueup = clone(trueup, tmp_path / "other")
    there.made(*BROADER)
    trueup.made(*BROADER)
    trueup.made("mend", str(there.folder))
    assert len(anew(trueup)) == 1
