"""Why a drawing made elsewhere cannot be traced, in words."""

OUTLINES = {
    "outline-open": (
        "this outline is open: its ends lie {gap:fine} apart at {x:mm} across and {y:mm} down; "
        "join them"
    ),
    "drawn-outline-crosses": "this outline crosses itself at {x:mm} across and {y:mm} down",
    "on-top-of": (
        "it lies on top of {other} at {x:mm} across and {y:mm} down; move one of them aside"
    ),
    "pieces-of-a-size": (
        "its largest piece would be {largest:mm} long, which no garment's is; say how long one of "
        "its lines is, as --measure 1=42cm"
    ),
    "not-as-measured": (
        "it is {drawn:mm} long as the drawing states its size, not {wanted:mm}; measure it again, "
        "or mend the size of the drawing"
    ),
}
