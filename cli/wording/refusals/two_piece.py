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
    "sewn-to-other": "the seam {seam} sews it to another piece under the arm",
}
