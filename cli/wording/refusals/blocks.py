"""Why a block cannot be drafted for a body, and trousers and knits not be changed, in words."""

BLOCKS = {
    "between-with": "with the {name} at {mm:mm} it lies between {low:least} and {high:most}",
    "at-most-with": "with the {name} at {mm:mm} it is at most {most:most}",
    "at-least-with": "with the {name} at {mm:mm} it is at least {least:least}",
    "goes-not-with": "it does not go with the {name} at {mm:mm}; take both again",
    "crotch-above-hip": "the crotch lies only {between:mm} below the hip",
    "little-fork": "only {left:mm} of the fork would be left",
}
