"""Why a sleeve cannot be cut into an upper and an under sleeve, and what could be, in words."""

TWO_PIECE = {
    "under-sleeve-narrow": (
        "the {line} seam would leave {left:mm} of the under sleeve to its side of the underarm"
    ),
    "seam-aside-at-most": "it can lie at most {most:most} from the fold",
    "line-misses-cap": "the {line} seam would not meet the cap",
    "seam-elsewhere": "let it lie elsewhere",
    "leave-bend-out": "leave bend and ease at nought",
    "elbow-near-end": "the elbow lies less than {near:mm} from an end of a seam",
    "hind-arm-ease": "it cannot be eased by {ease:mm} where it is bent by {bend:mm}",
    "hind-arm-ease-most": "with this bend by at most {most:most}",
    "bend-instead": "leave it out: a two-piece sleeve is bent by its seams",
    "sleeve-of-edges": "it has the edges {edges}, and not those of a plain sleeve",
    "cut-it-before": "cut it before",
    "sleeve-over-side": "sloped by {degrees} degrees the sleeve would lie over the side",
    "slope-at-most": "it can slope by at most {degrees} degrees",
    "narrower-or-less-round": "narrow the sleeve, lower the underarm, or round it less",
    "underarms-differ": "the underarm of the back would differ by {by:mm} from that of the front",
    "another-slope": "slope it otherwise",
    "no-corner-there": "underarm and side run into each other, with no corner to slash",
    "round-nothing": "round nothing where the sleeve is cut in one",
    "gusset-wider": "a gusset whose sides are {by:mm} long cannot be {wide:mm} wide",
    "narrower-than": "it is narrower than {by:most}",
    "slash-not-clear": "the slash would run into a dart or an edge, or too near to one",
    "slash-begins-far": (
        "underarm and side lie so near to each other that the slash would begin {by:mm} from where "
        "they meet, and not {most:mm} at most"
    ),
    "slope-less": "slope the sleeve less, or leave less cloth beside the slash",
    "slash-shorter": "the slash would be no longer than {seam:mm}, where it begins",
    "cut-along-two": "it was cut along two lines, and the seam that it had is none any more",
    "leave-cut-out": "drop the step that cut it, or make another pattern without it",
    "sewn-to-other": "the seam {seam} sews it to another piece under the arm",
}
