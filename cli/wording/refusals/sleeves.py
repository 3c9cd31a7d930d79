"""Why a sleeve cannot be drawn, nor an edge spread, and what could be instead, in words."""

SLEEVES = {
    "slash-meets-dart": "the slash {at:mm} along the {line} would run through the dart {dart}",
    "slash-leaves": "the slash {at:mm} along the {line} would run out at the {edge}",
    "slash-meets-corner": "the slash {at:mm} along the {line} would end at a corner of the {edge}",
    "slash-meets-fold": (
        "the slash {at:mm} along the {line} would end at the {edge}, which lies on the fold"
    ),
    "slash-beside": "the {edge} meets the {line} and cannot stay whole where that is spread",
    "dart-opens-on": "the dart {dart} opens on the {line}",
    "dart-off-edge": "turn or release that dart first",
    "give-both-places": "give where the gathers begin and where they stop",
    "stretch-too-short": "a stretch of {length:mm} of the {line} would be gathered",
    "places-apart": "choose places at least {apart:least} apart",
    "would-grow-with-it": "the {piece} is drafted to it and would grow with it",
    "crown-outside": "the crown would not lie in what is puffed",
    "either-side-of-crown": "choose a place to either side of the crown",
    "dips-by-itself": "the hem becomes longer by {by:mm} of itself",
    "dip-less": "spread it by more, or dip it less",
    "dip-at-seam": "it would lie lowest at a seam",
    "away-from-seams": "choose a place from a tenth to nine tenths of the hem",
    "with-dip": "with a dip of {dip:mm} {0}",
    "dip-at-most": "it can dip by at most {dip:most}",
    "dart-across": "a dart of {long:mm} would not end on the way across, which is {width:mm} long",
    "dart-shorter": "give it another length",
    "seam-off-level": "the {line} does not pass the {level}",
    "say-where": "say where it lies",
    "leave-elbow-out": "leave the width at the elbow out",
}
