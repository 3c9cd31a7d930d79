"""Steps of a chain in words."""

from trueup.lineage.files.records import StepRecord


def amounts(step: StepRecord) -> str:
    """Return what a step was made with, as its options: `--piece front --by 20mm`."""
    return " ".join(_option(name, value) for name, value in step.values.items())


def _option(name: str, value: object) -> str:
    word = f"--{name.replace('_', '-')}"
    if isinstance(value, bool):
        return word
    text = str(value)
    return f'{word} "{text}"' if " " in text else f"{word} {text}"
