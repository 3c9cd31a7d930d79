"""Why a piece cannot be renamed or joined to another, and what would be possible, in words."""

PIECES = {
    "parts-overlap": (
        "laid together along {line} its parts lie over each other, up to {over:mm} wide"
    ),
    "leave-apart": "leave them apart, or take the flare out of the seam first",
    "lies-over-itself": "its parts, flared since it was cut apart, lie over each other as one",
    "line-the-parts": "line each part by itself",
    "runs-through-pleat": "the line would run through the pleat {pleat}",
    "no-room-beside-line": "the pleat {pleat} would have no room for its cloth beside {line}",
    "is-called-so": "it is called {name} already",
    "alike-on-both": "left and right have the same {piece}",
    "rename-on-both": "rename it on both sides, or change it on one first",
    "not-sewn-so": "{line} is not sewn to {other} alone by one seam",
    "sew-them-first": "name two lines that are sewn to each other, or sew them with sew-together",
    "seam-left-open": "the {seam} is left open further down",
    "joined-lengths": (
        "it is {first:mm} long and that of {other} {second:mm}, which differ by {off:mm}"
    ),
    "true-first": "make them alike first, as with true-line, to within 1/16 in",
    "joined-curves": (
        "laid on each other, it and the line of {other} lie up to {off:mm} apart, so that much "
        "cloth would be left or taken between them"
    ),
    "straighten-first": "straighten both first with straighten-edge, or leave the seam",
    "lines-not-one": "where it ends, {line} meets {other}, and does not go on as one line",
    "line-round-piece": "{edge} meets it at both ends",
    "lies-over-it": "{other} would have to be turned over to lie beside it",
    "both-on-fold": "both it and {other} lie on a fold",
    "open-one-fold": "open the fold of one with open-fold first",
    "dart-on-joined": "the dart {dart} opens on it",
    "is-pleated-or-vented": "{piece} has {name}",
    "join-before-pleats": "join the pieces before that is laid or opened",
    "mark-from-level": "{mark} of {piece} is told from a level, which lies aslant then",
    "mark-after-joining": "mark it once they are joined",
    "joined-already": "{piece} was joined of two pieces already",
    "is-joined": "{part} is part of {joined} now",
    "change-before-joining": "make this change before the pieces are joined",
    "was-joined": "{joined} was joined of two pieces",
    "cut-before-joining": "cut those before they are joined",
}
