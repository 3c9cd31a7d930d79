"""Everything as JSON: read by hand, it is the same draft again."""

import json
from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.cli.exporting.told import facts_about
from tests.strategies import drafts, side_dart_blocks
from trueup.cli.exporting.everything_json import everything_json
from trueup.cli.exporting.exported import Exported
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.cubic import Cubic
from trueup.geometry.measuring.measures import measures
from trueup.geometry.pieces.allowances import allowed
from trueup.geometry.pieces.band import Band
from trueup.geometry.pieces.dart import Dart, InnerDart
from trueup.geometry.pieces.draft import Draft, Join, Run, Seam
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.fingerprint import fingerprint
from trueup.geometry.pieces.piece import Grainline, Level, Notch, Piece
from trueup.geometry.pieces.position import Position
from trueup.lineage.evaluation.summary import Summary


def document_of(draft: Draft):
    summary = Summary(fingerprint(draft), measures(draft), (), (), {}, {}, draft.piece_names)
    return json.loads(everything_json(Exported(facts_about(draft), draft, summary, ())))


def place(pair) -> complex:
    return complex(*pair)


def piece_from(form) -> Piece:
    edges = tuple(
        Edge(
            edge["name"],
            edge["starts_at"],
            edge["ends_at"],
            tuple(
                Chain(tuple(Cubic(*map(place, four)) for four in part)) for part in edge["parts"]
            ),
            tuple(
                Dart(dart["name"], place(dart["apex"]), dart["setback"], dart["turned"])
                for dart in edge["darts"]
            ),
        )
        for edge in form["edges"]
    )
    return Piece(
        form["name"],
        edges,
        tuple(
            InnerDart(d["name"], *(place(d[at]) for at in ("upper", "lower", "left", "right")))
            for d in form["inner_darts"]
        ),
        tuple(
            Notch(n["name"], n["edge"], Position(n["from"], n["distance"], n["share"]))
            for n in form["notches"]
        ),
        Grainline(*map(place, form["grainline"])) if form["grainline"] else None,
        form["fold"],
        tuple(Level(at["name"], at["y"], at["along"]) for at in form["levels"]),
        tuple(form["allowances"].items()),
    )


def runs_from(forms) -> tuple[Run, ...]:
    return tuple(Run(run["piece"], run["edge"], run["backwards"]) for run in forms)


def draft_from(document) -> Draft:
    return Draft(
        tuple(map(piece_from, document["pieces"])),
        tuple(
            Seam(
                seam["name"],
                runs_from(seam["side"]),
                runs_from(seam["mate"]),
                Band(seam["ease_low"], seam["ease_high"], seam["tolerance"]),
            )
            for seam in document["seams"]
        ),
        tuple(
            Join(
                join["name"],
                *(
                    (end["piece"], end["edge"], end["corner"])
                    for end in (join["first"], join["second"])
                ),
                join["degrees"],
            )
            for join in document["joins"]
        ),
    )


@settings(max_examples=25)
@given(st.one_of(drafts(), side_dart_blocks()))
def test_the_same_draft_is_read_from_it(draft):
    document = document_of(draft)
    assert draft_from(document) == draft
    assert fingerprint(draft_from(document)) == document["fingerprint"]


def test_allowances_and_darts_inside_are_in_it():
    back = allowed(block().piece("back"), {"side": 15.0, "hem": 40.0})
    middle = complex(60, back.level("bust").y)
    fish = InnerDart("fish", middle - 50j, middle + 50j, middle - 8, middle + 8)
    draft = block().with_pieces(replace(back, inner_darts=(fish,)))
    assert draft_from(document_of(draft)) == draft


def test_it_states_its_format_and_its_measures():
    document = document_of(block())
    assert (document["format"], document["format_version"]) == ("trueup pattern", 1)
    assert document["lengths"] == "mm"
    assert set(document["measures"]) == set(measures(block()))
