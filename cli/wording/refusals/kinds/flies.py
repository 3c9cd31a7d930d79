"""Why trousers cannot have a fly, and what would be possible, in words."""

FLIES = {
    "fly-into-curve": "a fly {long:mm} long would run into the curve of the {edge}",
    "fly-too-wide": "an extension {width:mm} wide would reach past the waist beside it",
    "comes-to-no-waist": "the {edge} does not come up to the waist",
    "fly-is-of-both": "both fronts meet there, and are opened alike",
    "sewn-to-another": "it is sewn to another line, in the {seam}",
}
