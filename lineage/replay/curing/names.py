"""What remedies are called, in files and by who decides."""

ACCEPT = "accept"
HOLD = "hold"
FOLLOW = "follow"
DROP_OWN_COPY = "drop-own-copy"
DROP_STEP = "drop-step"
SMALLER_STEP = "smaller-step"
REPEAT_HERE = "repeat-here"
