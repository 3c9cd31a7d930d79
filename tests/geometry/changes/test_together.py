"""Kinds one after another, on pieces cut apart, drafted to a line, parted into left and right."""

import json
from random import Random

import pytest

from tests.builders import block
from tests.judging.random_wardrobes import any_change
from trueup.geometry.calling.own_names import by_own_names
from trueup.geometry.changes import Change, kind_named
from trueup.geometry.cuts.sewing import relaid
from trueup.geometry.errors import GeometryError
from trueup.geometry.measuring.checks import check
from trueup.geometry.measuring.forms import forms
from trueup.geometry.measuring.measures import measures
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.fingerprint import fingerprint
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.pieces.position import Position
from trueup.geometry.pieces.side import Side
from trueup.geometry.sides.parting import of_both, worn_on
from trueup.lineage.drawings.tracing.form import draft_form
from trueup.lineage.drawings.tracing.form_reading import read_form
from trueup.lineage.evaluation.plain import read_draft, to_bytes

STEPS = 10


def any_kind(dice: Random, draft: Draft, number: int) -> Change:
    """Return a change of any kind there is for what the draft has."""
    piece = dice.choice(draft.pieces)
    edge = dice.choice(piece.edges)
    full = f"{piece.name}.{edge.name}"
    at = Position(dice.choice((edge.starts_at, edge.ends_at)), share=dice.uniform(0.1, 0.9))
    other = dice.choice([each for each in piece.edges if each is not edge])
    ends_at = Position(other.starts_at, share=dice.uniform(0.1, 0.9))
    darts = [dart.name for dart in edge.darts] or [""]
    ways: list[tuple[str, dict[str, object]]] = [
        ("cut-apart", {"piece": piece.name, "begins": edge.name, "at": at, "ends": other.name,
                       "ends_at": ends_at, "line": f"line-{number}"}),
        ("cut-apart", {"piece": "front", "begins": "armhole", "ends": "hem",
                       "through": "bust waist", "line": "princess"}),
        ("cut-apart", {"piece": piece.name, "begins": edge.name, "through": dice.choice(darts),
                       "ends": other.name, "ends_at": ends_at, "line": f"line-{number}"}),
        ("join-parts", {"piece": dice.choice(("front", "back", piece.name))}),
        ("draft-band", {"to": "back.neck front.neck", "name": f"stand-{number}", "height": 35.0,
                        "rise": dice.uniform(0, 20)}),
        ("draft-band", {"to": full, "name": f"band-{number}", "height": 50.0,
                        "gathers": dice.uniform(0, 30)}),
        ("draft-collar", {"to": full, "name": f"collar-{number}", "height": 50.0, "point": 60.0,
                          "lean": dice.uniform(-20, 30), "rise": dice.uniform(-10, 15)}),
        ("draft-flat-collar", {"name": f"flat-{number}", "width": dice.uniform(40, 120),
                               "overlap": dice.uniform(0, 80), "lowered": dice.uniform(0, 6)}),
        ("draft-hood", {"name": f"hood-{number}", "height": 340.0, "depth": 240.0,
                        "dart": dice.choice((0, 20))}),
        ("draft-cuff", {"to": full, "name": f"cuff-{number}", "width": 50.0, "overlap": 20.0,
                        "doubled": dice.random() < 0.5}),
        ("draft-binding", {"to": full, "name": f"binding-{number}", "width": 8.0}),
        ("draft-lining", {"piece": piece.name, "pleat": dice.choice((0.0, 20.0)),
                          "shorter": dice.choice((0.0, 15.0))}),
        ("draft-facing", {"edge": full, "width": dice.uniform(20, 60)}),
        ("fold-wedge", {"edge": full, "at": at, "ends": f"{piece.name}.{other.name}",
                        "ends_at": ends_at, "by": dice.choice((-1, 1)) * dice.uniform(1, 12)}),
        ("gather-edge", {"edge": full, "by": dice.uniform(5, 60),
                         "slashes": float(dice.randint(1, 5))}),
        ("change-bust", {"dart": "front.bust", "by": dice.uniform(-6, 15),
                         "into": dice.choice((None, "front.waist"))}),
        ("contour-edge", {"dart": "front.bust", "edge": full, "at": at, "by": dice.uniform(1, 15)}),
        ("puff-hem", {"by": dice.uniform(30, 150), "dip": dice.uniform(0, 25)}),
        ("taper-sleeve", {"to": dice.uniform(200, 330)}),
        ("add-elbow-dart", {"by": dice.uniform(5, 25)}),
        ("drop-shoulder", {"by": dice.uniform(5, 30)}),
        ("raglan", {"rise": dice.uniform(-10, 10), "front_at": Position("underarm", share=0.4)}),
        ("cut-in-one-sleeve", {"slope": dice.uniform(0, 30), "rounded": dice.choice((0.0, 60.0))}),
        ("insert-gusset", {"by": dice.uniform(50, 120), "name": f"gusset-{number}"}),
        ("two-piece-sleeve", {"front": dice.uniform(0, 30), "bend": dice.uniform(5, 25)}),
        ("shorten-to", {"below": dice.uniform(60, 300)}),
        ("puff-cap", {"by": dice.uniform(10, 90), "height": dice.uniform(0, 40)}),
        ("gather-dart", {"dart": f"{piece.name}.{dice.choice(darts)}"}),
        ("add-dart", {"edge": full, "at": at, "by": dice.uniform(2, 20), "name": f"dart-{number}",
                      "deep": dice.uniform(20, 90), "aside": dice.uniform(-10, 10)}),
        ("add-double-dart", {"piece": piece.name, "by": 15.0, "away": dice.uniform(30, 150),
                             "above": 80.0, "below": 70.0, "name": f"dart-{number}"}),
        ("lengthen-at", {"by": dice.uniform(-20, 30), "level": dice.choice(("waist", "bust")),
                         "below": dice.uniform(-80, 60)}),
        ("full-arm", {"by": dice.uniform(-20, 50)}),
        ("pitch-sleeve", {"by": dice.uniform(-10, 10)}),
        ("round-back", {"by": dice.uniform(-8, 15)}),
        ("hollow-chest", {"by": dice.uniform(-8, 12)}),
        ("sway-back", {"by": dice.uniform(-8, 15)}),
        ("full-abdomen", {"by": dice.uniform(-8, 15), "dart": "front.waist", "less": 4.0}),
        ("true-line", {"edge": full, "by": dice.uniform(-8, 8) or 1.0}),
        ("redraw-edge", {"edge": full, "through": f"50%:{dice.randint(1, 9)}mm"}),
        ("mark-notch", {"edge": full, "at": at, "name": f"notch-{number}"}),
        ("mark-hole", {"edge": full, "at": at, "by": 15.0, "name": f"hole-{number}"}),
        ("mark-hole", {"dart": f"{piece.name}.{dice.choice(piece.dart_names or ('',))}",
                       "name": f"dart-hole-{number}"}),
        ("notch-dart", {"dart": f"{piece.name}.{dice.choice(darts)}"}),
        ("open-front", {"piece": piece.name, "extension": 20.0}),
        ("lay-pleats", {"edge": full, "at": at, "ends": other.name, "ends_at": ends_at,
                        "depth": dice.uniform(3, 15), "name": f"pleat-{number}",
                        "style": dice.choice(("knife", "box", "inverted"))}),
        ("slit", {"edge": full, "at": at, "name": f"slit-{number}"}),
        ("add-vent", {"edge": full, "at": at, "name": f"vent-{number}", "width": 25.0}),
        ("flare-seam", {"edge": full, "at": at, "by": dice.uniform(-10, 60)}),
        ("cut-gores", {"piece": piece.name, "gores": float(dice.randint(2, 4)),
                       "begins": other.name, "flare": dice.choice((0.0, 30.0)),
                       "line": f"gore-{number}", "parts": ""}),
        ("add-fly", {"edge": full, "long": 60.0, "width": 20.0, "stitched": 15.0}),
        ("shape-hem", {"piece": piece.name, "rise": dice.uniform(-20, 60),
                       "dip": dice.uniform(0, 30), "shape": dice.choice(("round", "shirt-tail"))}),
        ("spread-apart", {"edge": full, "ends": other.name, "by": dice.uniform(5, 60),
                          "slashes": 2.0}),
        ("dart-to-flare", {"dart": f"{piece.name}.{dice.choice(darts)}", "share": 0.5}),
        ("place-buttons", {"edge": full, "button": 15.0, "count": 3.0, "last": 30.0}),
        ("place-pocket", {"edge": full, "at": at, "inside": 10.0, "width": 40.0, "height": 40.0,
                          "name": f"pocket-{number}", "lower": "rounded"}),
        ("label-piece", {"piece": piece.name, "count": 2.0, "note": f"note {number}"}),
        ("shape-corner", {"edge": full, "how": dice.choice(("mirrored", "squared", "blunted"))}),
        ("overlap-front", {"piece": "front", "by": dice.uniform(20, 80), "starts": edge.name,
                           "at": at, "beyond": dice.random() < 0.5}),
        ("draft-shawl", {"piece": "front", "opens": dice.uniform(60, 200)}),
        ("open-fold", {"piece": piece.name}),
        ("close-fold", {"edge": full}),
        ("add-zip", {"edge": full, "opening": 60.0, "name": f"stop-{number}"}),
        ("add-placket", {"piece": piece.name, "width": 30.0}),
        ("mark-slit", {"edge": full, "at": at, "deep": 30.0, "name": f"slit-{number}"}),
        ("drop-piece", {"piece": piece.name}),
        ("join-pieces", {"edge": full, "to": dice.choice(draft.edge_names),
                         "name": f"joined-{number}"}),
        ("rename-piece", {"piece": piece.name, "to": f"piece-{number}"}),
        ("seam-allowance", {"piece": piece.name, "by": 15.0}),
    ]  # fmt: skip
    kind, values = dice.choice(ways)
    side = dice.choice((None, None, None, "left", "right"))
    if kind in ("open-fold", "close-fold"):
        side = None  # what lies on a fold is one piece for both
    return kind_named(kind)(**values, side=side)


def chained(seed: int) -> tuple[Draft, int]:
    """Return what some steps make of a block, each held to what has to hold, and how many did."""
    dice, draft, made = Random(seed), block(), 0
    for number in range(STEPS):
        plain = dice.random() < 0.5
        try:
            change = any_change(dice, looks=True) if plain else any_kind(dice, draft, number)
            draft = change.apply(draft)
        except GeometryError:
            continue
        made += 1
        holds(draft)
    return draft, made


def holds(draft: Draft) -> None:
    for piece in draft.told_of:
        closed(piece)
    assert relaid(draft) == draft
    assert read_draft(to_bytes(draft)) == draft
    if draft.is_parted:
        halves = (worn_on(draft, side) for side in Side)
        assert fingerprint(of_both(*halves)) == fingerprint(by_own_names(draft))


def closed(piece: Piece) -> None:
    for before, after in zip(piece.edges, (*piece.edges[1:], piece.edges[0]), strict=True):
        assert before.end == after.start
        assert before.ends_at == after.starts_at


@pytest.mark.parametrize("first", range(0, 60, 20))
def test_whatever_is_done_one_after_another_the_draft_holds_together(first: int) -> None:
    steps = 0
    for seed in range(first, first + 20):
        draft, made = chained(seed)
        steps += made
        assert all(abs(value) < 1e5 for value in measures(draft).values())
        assert forms(draft)
        check(draft)
        form = json.dumps(draft_form(draft))
        assert read_form(form, "x.svg").pieces == draft.pieces
    assert steps > 60
