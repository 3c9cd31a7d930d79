"""Letters of seams: who shares one, and that earlier paper goes on being right."""

from dataclasses import replace
from pathlib import Path
from typing import Any

from tests.builders import block
from tests.cli.sheet.page_words import words_of
from trueup.cli.sheet.naming.seam_letters import lettered
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Notch
from trueup.geometry.pieces.position import Position
from trueup.geometry.pieces.seams.seam import Run, Seam


def letters_of(draft: Draft, *earlier: Draft) -> dict[str, str]:
    before = lettered(earlier[0]) if earlier else ()
    return {seam.name: seam.letter for seam in lettered(draft, before)}


def cuff(name: str = "cuff-seam") -> Seam:
    return Seam(name, (Run("sleeve", "hem"),), (Run("sleeve", "hem"),))


def test_every_seam_has_a_letter_of_its_own() -> None:
    letters = letters_of(block())
    assert [*letters] == [seam.name for seam in block().seams]
    assert len({*letters.values()}) == len(letters)


def test_a_seam_that_comes_later_takes_no_letter_of_another_wherever_it_stands() -> None:
    old = letters_of(block())
    first = replace(block(), seams=(cuff(), *block().seams))
    new = letters_of(first, block())
    assert {name: new[name] for name in old} == old
    assert new["cuff-seam"] not in old.values()


def test_the_letter_of_a_seam_that_is_gone_is_given_to_no_other() -> None:
    old = letters_of(block())
    gone, *others = block().seams
    new = letters_of(replace(block(), seams=(*others, cuff())), block())
    assert old[gone.name] not in new.values()
    assert {name: new[name] for name in old if name != gone.name} == {
        name: letter for name, letter in old.items() if name != gone.name
    }


def test_the_letters_of_very_many_seams_are_all_different_and_none_is_taken_for_a_line() -> None:
    many = replace(block(), seams=tuple(cuff(f"cuff-seam-{n}") for n in range(700)))
    letters = [seam.letter for seam in lettered(many, not_as=("S", "M", "L"))]
    assert len({*letters}) == 700
    assert not {"I", "O", "S", "M", "L"} & {*letters}


def test_a_seam_that_is_left_open_carries_its_letter_where_it_is_sewn() -> None:
    side = next(seam for seam in block().seams if seam.name == "side-seam")
    sewn = 60.0
    pieces = []
    for run in (*side.side, *side.mate):
        piece = block().piece(run.piece)
        edge = piece.edge(run.edge)
        first = edge.ends_at if run.backwards else edge.starts_at
        notch = Notch("slit-top", run.edge, Position(first, distance=sewn))
        pieces.append(piece.with_notches(notch))
    left_open = replace(side, open_from=("slit-top", "slit-top"))
    (whole,) = lettered(replace(block().with_pieces(*pieces), seams=(left_open,)))
    for run, stretch in zip((*side.side, *side.mate), (*whole.side, *whole.mate), strict=True):
        length = block().edge(run.piece, run.edge).length
        low = length - sewn if run.backwards else 0.0
        assert abs(stretch.low - low) < 1e-6
        assert abs(stretch.high - low - sewn) < 1e-6


def test_what_the_document_tells_of_letters_is_what_is_on_paper(
    trueup: Any, tmp_path: Path
) -> None:
    file = tmp_path / "blouse.pdf"
    asked = ("sheet", "blouse", str(file), "--paper", "91.4cm", "--json")
    document = trueup.made(*asked).document
    written = [words.text.strip() for page in words_of(file.read_bytes()) for words in page]
    assert document["seams"]
    for seam in document["seams"]:
        lines = {*seam["side"], *seam["mate"]}
        assert written.count(seam["letter"]) == len(lines) + 1  # and once in the key
        assert f"= {', '.join(seam['side'])} with {', '.join(seam['mate'])}" in written


def test_pages_printed_anew_have_the_letters_of_those_at_hand(trueup: Any, tmp_path: Path) -> None:
    old = trueup.made("sheet", "blouse", str(tmp_path / "old.pdf"), "--json").document
    trueup.made("correct", "village", "scoop-armhole", "--piece", "front", "--by", "12mm")
    asked = ("sheet", "blouse", str(tmp_path / "new.pdf"), "--only-moved", "--json")
    assert trueup.made(*asked).document["seams"] == old["seams"]
