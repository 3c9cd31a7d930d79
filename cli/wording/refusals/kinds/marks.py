"""Why a mark, a closure or a corner of an allowance cannot be, and what would be, in words."""

MARKS = {
    "level-not-met": "the level {level} does not meet it",
    "leaves-piece": "it would reach {beyond:mm} beyond the piece",
    "dart-only-long": "from its tip to its mouth the dart is only {length:mm} long",
    "lies-on-fold": "it lies on the fold of the cloth",
    "open-it-first": "open the piece first",
    "extension-narrow": (
        "its extension of {extension:mm} is too narrow for a button of {button:mm}"
    ),
    "extension-at-least": "open it with an extension of at least {by:least}",
    "buttons-too-near": "buttons would lie {apart:mm} apart, nearer than {least:mm}",
    "fewer-buttons": "use at most {most}",
    "no-room-for-buttons": "of its {length:mm} nothing is left between first and last",
    "nearer-the-ends": "place them nearer its ends",
    "level-not-between": (
        "the level {level} does not meet it between {low:mm} and {high:mm} from its top"
    ),
    "place-or-size": "choose another place or a smaller size",
    "over-dart": "it would lie over the dart {dart}",
    "place-or-turn-dart": "choose another place, or turn or release that dart first",
    "short-note": "it is one line of {most} letters at most",
    "cut-from-nothing": "it would be cut from no cloth at all",
    "drop-it": "leave it out of the pattern with drop-piece",
    "cut-without": "nothing is cut outside {edge}",
    "allowance-first": "give it an allowance first",
    "corner-opens": "the corner {corner:point} opens by {degrees:degrees}",
    "corner-between": "it can be cut so where it opens by {low} to {high} degrees",
    "another-corner": "name another corner",
    "cut-into": "the allowance would be cut into at {corner:point}",
    "use-at-least": "use at least {by:least}",
    "no-room-for-band": "an edge beside it is only {length:mm} long",
    "seam-of-several": "the seam {seam} joins several edges",
    "turned-outside": "a fold {by:mm} outside it would lie beyond its allowance of {allowance:mm}",
    "nearer-the-tip": "choose a place nearer the tip",
}
