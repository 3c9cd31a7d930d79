"""Why a change of fit or of a dart cannot be carried out, and what would be possible, in words."""

FIT = {
    "say-the-side": "say on which side of the body, left or right",
    "give-wedge-place": "say where on it the wedge lies",
    "centre-not-straight": "its centre is not straight",
    "fold-wedge-instead": "use fold-wedge instead",
    "fold-too-low": "it would lie in the lower half of the centre",
    "dart-not-above": "the dart {dart} does not open above the slash",
    "slash-off-centre": "level with the point it aims at the slash does not meet the centre",
    "slash-off-armhole": "the slash does not end on the armhole",
    "no-crown-notch": "its cap has no notch {notch} that says how it is set",
    "mark-first": "mark one with mark-notch first",
    "notch-off-cap": "the notch {notch} would come off the cap",
    "cap-too-far": "so short a cap line of {height:mm} height would become too flat or too steep",
    "slash-misses": "the slash does not run across the {piece}",
    "slash-along": "the slash would run along the {edge}, or cross it twice",
    "slash-athwart": "the slash would cross the dart {dart} athwart",
    "goes-with": "give it together with {other}",
    "does-not-meet": "{edge} does not meet {other}",
    "ends-at-level": "the {piece} ends at the {level}",
    "dart-on-edge": "open one on that edge with add-dart",
    "centre-off-level": "its centre does not pass the {level}",
    "gathers-beside": (
        "the gathers would lie beside the dart {dart}, which opens {at:mm} from the {corner:point}"
    ),
    "wedge-leaves-cloth": "the wedge would leave the cloth",
    "nothing-left-of-dart": "nothing would be left of the dart {dart}",
    "slash-off-hem": "straight down from the point that the dart {dart} aims at there is no hem",
    "slash-not-above": "the slash would not run upwards from the bust point",
}
