"""The vocabulary of symptoms on the help page of a verb that takes one."""

from collections.abc import Iterator
from typing import Any

from trueup.cli.plain.help_pages import PlainCommand


class SymptomCommand(PlainCommand):
    """A command with a plain help page that lists the symptoms at its end."""

    def format_options(self, ctx: Any, formatter: Any) -> None:
        """Write what the command takes, then every symptom in plain words."""
        super().format_options(ctx, formatter)
        with formatter.section("Symptoms"):
            formatter.write_dl(list(symptoms_in_words()))


def symptoms_in_words() -> Iterator[tuple[str, str]]:
    """Yield every symptom and what is seen, and the word for all that has none."""
    from trueup.lineage.garments.notes import OTHER  # noqa: PLC0415
    from trueup.lineage.symptoms.rows import SYMPTOMS  # noqa: PLC0415

    yield from SYMPTOMS.items()
    yield OTHER, "what none of these words says"
