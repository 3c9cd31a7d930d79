"""Why a photograph cannot be measured, in words."""

PHOTOGRAPHS = {
    "other-colours": "its colours ({colours}) are not those of a photograph",
    "mirrored": "it is mirrored",
    "negative": "it is a negative",
    "no-frame": "no strip of the frame is to be seen",
    "few-strips": (
        "{whole} strips of the frame are to be seen well, and it takes {least} on all sides of the "
        "pattern"
    ),
    "strip-twice": "strip {strip} of the frame is in it twice",
    "blurred": "it is blurred: edges spread over {over:fine}, where {most:fine} is the most",
    "too-coarse": "it is too coarse: a pixel sees {pixel:fine}, where {most:fine} is the most",
    "no-view": "no flat table explains how its markers lie",
    "not-flat": "the markers lie {off:fine} from where those of flat strips would",
    "strip-off": "strip {strip} of the frame comes out {share} % too {way}, measured by the others",
    "nothing-on-table": "nothing on the table is told apart from it",
    "cut-off": "what lies {across} % across and {down} % down the picture is cut off by its border",
    "touches-strip": "what lies on the table touches or covers strip {strip}",
    "beyond-frame": (
        "what lies {across} % across and {down} % down the picture reaches out of the frame"
    ),
    "unread-strip": (
        "what lies {across} % across and {down} % down the picture seems to be a strip that cannot "
        "be read"
    ),
    "edge-lost": (
        "the edge of the pattern is not told apart from the table {across} % across and {down} % "
        "down the picture"
    ),
    "overlapping": (
        "two pieces lie over each other {across} % across and {down} % down the picture"
    ),
}
