"""Why a change of fit or of a dart cannot be carried out, and what would be possible, in words."""

FIT = {
    "slash-misses": "the slash does not run across the {piece}",
    "slash-along": "the slash would run along the {edge}, or cross it twice",
    "slash-athwart": "the slash would cross the dart {dart} athwart",
    "goes-with": "give it together with {other}",
    "does-not-meet": "{edge} does not meet {other}",
    "ends-at-level": "the {piece} ends at the {level}",
    "dart-on-edge": "open one on that edge with add-dart",
    "centre-off-level": "its centre does not pass the {level}",
    "gathers-beside": (
        "the gathers would lie beside the dart {dart}, which opens {at:mm} from the {corner}"
    ),
    "wedge-leaves-cloth": "the wedge would leave the cloth",
    "nothing-left-of-dart": "nothing would be left of the dart {dart}",
    "slash-off-hem": "straight down from the point that the dart {dart} aims at there is no hem",
    "slash-not-above": "the slash would not run upwards from the bust point",
}
