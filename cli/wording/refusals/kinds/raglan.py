"""Why a raglan cannot be cut, and what could be instead, in words."""

RAGLAN = {
    "turn-off-upper": (
        "turn it into an edge that stays, with rotate-dart, or release it with release-dart first"
    ),
    "dart-goes-over": "the dart {dart} lies in what goes over to the sleeve",
    "no-such-notch": "its armhole has no notch called {notch}",
    "raglan-beyond-crown": (
        "the armhole would keep {rest:mm}, more than half the cap, which is {cap:mm} long"
    ),
    "raglan-lower": "let the line end nearer to the underarm",
    "raglan-apart": "the upper parts would not reach each other over the arm",
    "raglan-tight": "the cap below the lines would bend too tightly to be sewn",
    "raglan-nearer": (
        "narrow the sleeve, raise its cap, or let the lines end elsewhere on the armhole"
    ),
    "raglan-rise": "the shoulder points cannot come to lie {rise:mm} above the crown",
    "raglan-rises": "they can rise by {least:least} to {most:most}",
    "no-cap-seam": "a raglan sleeve has no cap that could be gathered into an armhole",
    "leave-gathers-out": "leave the gathers out",
    "raglan-bends": "the line would bend to a radius of {radius:mm} above the armhole",
    "raglan-other-curve": "let it stand out more, or let it end elsewhere on the armhole",
}
