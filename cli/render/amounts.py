"""Lengths and changes of length as the maker reads them, in the wardrobe's unit."""

from geometry.units import Unit, format_length


def length(mm: float | None, unit: Unit) -> str:
    """Return a length, or a dash where there is none."""
    return "-" if mm is None else format_length(mm, unit)


def change(mm: float, unit: Unit) -> str:
    """Return a change of length with its sign, `+1.2 cm`."""
    written = format_length(mm, unit)
    return written if written.startswith(("-", "0 ")) else f"+{written}"


def before_and_after(before: float | None, after: float | None, unit: Unit) -> str:
    """Return a measure before and after, and the change with its sign."""
    both = f"{length(before, unit)} -> {length(after, unit)}"
    if before is None or after is None:
        return both
    return f"{both} ({change(after - before, unit)})"
