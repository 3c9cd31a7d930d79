"""How often Python looks for circles among what is no longer used."""

import gc


def collect_seldom() -> None:
    """Let the collector look a hundred times more seldom.

    What is read and evaluated are values that hold no circles, made by the ten thousand and kept:
    the collector would go over all of them again and again, for a tenth of the time.
    """
    gc.set_threshold(70_000, 10, 10)
