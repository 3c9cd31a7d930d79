"""Which kind of change an amount found at a place stands for, and how it is counted.

Every mapping stands once, in `RULES`. All are common practice, no source.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field

from trueup.geometry.pieces.draft import Draft
from trueup.lineage.diagnosis.pinned import How
from trueup.lineage.symptoms.rows import PIECE


@dataclass(frozen=True)
class Rule:
    """What an amount at a place stands for: a kind of change, and its amounts for each mm.

    `places` are names with `{piece}` for each of `pieces`. `factors` gives each amount of the kind;
    what is let out has the opposite sign. `alike` says that the kind changes front and back (or
    both sides of a sleeve) alike, so that the same thing may be said of both. `target` is the
    measure whose new value the kind is given. `reason` says why, and how the amount is counted.
    """

    how: How
    places: tuple[str, ...]
    kind: str
    edge: str
    reason: str
    pieces: tuple[str, ...] = ("front", "back")
    factors: dict[str, float] = field(default_factory=lambda: {"by": 1.0})
    values: dict[str, str | bool] = field(default_factory=dict)
    alike: bool = False
    target: str = ""
    at: str = ""


BODICE = ("front", "back")
SLEEVE = ("sleeve",)

DART = Rule(
    How.PINNED,
    (),
    "deepen-dart",
    "",
    "a fold pinned into a dart is taken up by it whole: both layers of the fold count",
    values={"dart": PIECE},
)
"""A dart, or the dart nearest to a fold pinned on its edge, which is then given for `{piece}`."""

RULES: tuple[Rule, ...] = (
    Rule(
        How.PINNED,
        ("{piece}.shoulder",),
        "shorten-shoulder",
        "{piece}.shoulder",
        "a fold pinned across the shoulder seam shortens it by the whole fold, on front and back, "
        "for they are sewn to each other",
        alike=True,
    ),
    Rule(
        How.PINNED,
        ("{piece}.shoulder-point",),
        "slope-shoulder",
        "{piece}.shoulder",
        "a seam pinned deeper at the shoulder point, to nothing at the neck, lowers the point by "
        "as much on front and back; so much is the depth on one piece",
        alike=True,
    ),
    Rule(
        How.PINNED,
        ("shoulder-seam",),
        "slope-shoulder",
        "{piece}.shoulder",
        "pinned through front and back at once at the shoulder point: half of the cloth taken up "
        "belongs to each",
        factors={"by": 0.5},
        alike=True,
    ),
    Rule(
        How.CHALKED,
        ("front.shoulder",),
        "shift-shoulder",
        "front.shoulder",
        "a new shoulder line chalked on the front lies so far forward at the shoulder point",
        alike=True,
    ),
    Rule(
        How.CHALKED,
        ("back.shoulder",),
        "shift-shoulder",
        "back.shoulder",
        "a new shoulder line chalked on the back lies so far back at the shoulder point",
        factors={"by": -1.0},
        alike=True,
    ),
    Rule(
        How.CHALKED,
        ("{piece}.neck",),
        "lower-neck",
        "{piece}.neck",
        "a new neck line chalked lower is so much lower at the centre",
        values={"piece": PIECE},
    ),
    Rule(
        How.CHALKED,
        ("{piece}.neck-point",),
        "widen-neck",
        "{piece}.neck",
        "a neck chalked wider takes the neck points of front and back out along the shoulder, for "
        "they meet there",
        alike=True,
    ),
    DART,
    Rule(
        How.CHALKED,
        ("{piece}.armhole",),
        "scoop-armhole",
        "{piece}.armhole",
        "a new armhole chalked inside the old hollows it by so much where they lie furthest apart",
        values={"piece": PIECE},
        at="at",
    ),
    Rule(
        How.CHALKED,
        ("{piece}.underarm",),
        "lower-armhole",
        "{piece}.armhole",
        "an underarm chalked lower is lowered on front and back, for they meet there",
        alike=True,
    ),
    Rule(
        How.PINNED,
        ("{piece}.side",),
        "add-ease",
        "{piece}.side",
        "so much on one layer of one side is as much on front and back, left and right: four times "
        "that in the girth",
        factors={"by": -4.0},
        alike=True,
    ),
    Rule(
        How.PINNED,
        ("side-seam",),
        "add-ease",
        "{piece}.side",
        "pinned through front and back at once, half of the cloth taken up belongs to each; both "
        "sides together make twice that in the girth",
        factors={"by": -2.0},
        alike=True,
    ),
    Rule(
        How.PINNED,
        ("bust", "waist", "hip"),
        "add-ease",
        "{piece}.side",
        "taken in all round, a quarter belongs to each side edge; the whole side seam moves, so "
        "for the waist alone pin its darts",
        factors={"by": -1.0},
        alike=True,
    ),
    Rule(
        How.PINNED,
        ("sleeve.front-seam", "sleeve.back-seam"),
        "widen-sleeve",
        "{piece}.back-seam",
        "so much on one layer of the sleeve seam is as much on the other, from biceps to hem",
        SLEEVE,
        {"by": -2.0, "hem": -2.0},
        alike=True,
    ),
    Rule(
        How.PINNED,
        ("sleeve-seam",),
        "widen-sleeve",
        "{piece}.back-seam",
        "pinned through both layers of the sleeve seam at once, the cloth taken up is what the "
        "sleeve loses, half at each edge",
        SLEEVE,
        {"by": -1.0, "hem": -1.0},
        alike=True,
    ),
    Rule(
        How.PINNED,
        ("biceps", "sleeve.biceps"),
        "widen-sleeve",
        "{piece}.cap",
        "a fold pinned along the upper arm narrows the sleeve there by the whole fold",
        SLEEVE,
        {"by": -1.0},
        alike=True,
    ),
    Rule(
        How.PINNED,
        ("wrist", "sleeve.wrist"),
        "widen-sleeve",
        "{piece}.hem",
        "a fold pinned at the wrist narrows the hem by the whole fold and leaves the biceps",
        SLEEVE,
        {"by": 0.0, "hem": -1.0},
        alike=True,
    ),
    Rule(
        How.PINNED,
        ("sleeve.crown",),
        "raise-cap",
        "{piece}.cap",
        "a fold pinned across the cap lowers the crown by the whole fold",
        SLEEVE,
        {"by": -1.0},
    ),
    Rule(
        How.PINNED,
        ("sleeve.cap",),
        "refit-cap",
        "{piece}.cap",
        "folds pinned out of the cap's edge come off its ease",
        SLEEVE,
        {"to": -1.0},
        target="sleeve.cap-ease",
    ),
    Rule(
        How.PINNED,
        ("{piece}.hem",),
        "lengthen",
        "{piece}.hem",
        "a hem pinned up is shorter by as much; what is turned up is counted once, not the fold",
        (*BODICE, *SLEEVE),
        {"by": -1.0},
        {"piece": PIECE},
    ),
)
"""In the order in which a fitting makes them: shoulder before sleeve, and the hem last."""


def places_of(draft: Draft, how: How) -> tuple[str, ...]:
    """Return every place of a draft that can be given in a way."""
    found = [place for place, _, _ in concrete(draft, how)]
    if how is not How.CHALKED:
        found += [
            f"{piece.name}.{edge.name}"
            for piece in draft.pieces
            for edge in piece.edges
            if edge.darts
        ]
        found += [name for dart in draft.dart_names for name in (dart, f"{dart}-dart")]
    return tuple(dict.fromkeys(found))


def concrete(draft: Draft, how: How) -> Iterator[tuple[str, Rule, str]]:
    """Yield each place a rule knows on a draft, with the rule and the piece."""
    wanted = How.CHALKED if how is How.CHALKED else How.PINNED
    for rule in RULES:
        for piece in rule.pieces:
            if rule.how is wanted and draft.has_piece(piece):
                for place in rule.places:
                    named = place.partition(".")[0]
                    if named not in BODICE or named == piece:
                        yield place.replace(PIECE, piece), rule, piece
