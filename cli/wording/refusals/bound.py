"""Why an amount cannot be bound to the body as it is written, in words."""

BOUND = {
    "bound-write": "write it as in '4% of waist', 'bust/8' or 'bust/24 + 1cm'",
    "bound-unread": '"{at}" was not understood in it',
    "bound-ends": "it ends too early",
    "bound-open": "a bracket in it is not closed",
    "bound-too-deep": "its brackets are nested too deeply",
    "bound-nought": "it divides by nought",
    "bound-no-length": "it does not come to a length",
    "bound-adds": "it adds a plain number to a length",
    "bound-unit": "write the unit of every length in it, as in 1cm",
    "bound-unknown": "{name} is no measurement its block was drafted from",
    "bound-known": "these are {names}",
    "bound-minus": "take one from another with a blank on either side, as in 'bust - waist'",
    "bound-no-body": "its block was not drafted from measurements of a body",
    "bound-two-bodies": "its pieces come from two bodies, with a {name} of {first:mm} and "
    "{second:mm}",
}
