"""What is always worth heeding; common practice, no source, and no rule of any place."""

CHILDREN = (
    "For children's wear: no cords or drawstrings at the neck or hood, no small parts that come "
    "off and can be swallowed, and for night-wear only cloth that the rules on flammability allow."
)
