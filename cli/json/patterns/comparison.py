"""Two drafts compared as a JSON document, lengths in mm."""

from trueup.cli.json.forms import Form, mm
from trueup.geometry.comparing.comparison import Comparison, EdgeMove
from trueup.geometry.comparing.difference import DartDifference


def comparison(found: Comparison, old: Form, new: Form, align: str) -> Form:
    """Return what moved between two versions; `old` and `new` say which they are."""
    return {
        "from": old,
        "to": new,
        "align": align,
        "edges": [_edge(move) for move in found.moves],
        "darts": [_dart(dart) for dart in found.darts],
        "only_from": list(found.only_old),
        "only_to": list(found.only_new),
    }


def _edge(move: EdgeMove) -> Form:
    return {
        "edge": move.name,
        "moved_mm": mm(move.distance),
        "at_mm": mm(move.along),
        "from_corner": move.corner,
        "before_mm": mm(move.before),
        "after_mm": mm(move.after),
    }


def _dart(dart: DartDifference) -> Form:
    return {
        "dart": dart.dart,
        "moved_mm": mm(dart.moved),
        "before_mm": mm(dart.before),
        "after_mm": mm(dart.after),
    }
