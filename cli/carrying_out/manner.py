"""How a step is to be carried out and told."""

from dataclasses import dataclass
from pathlib import Path


@dataclass(frozen=True)
class Manner:
    """Which wardrobe, whether only previewed and told as JSON, and on which cluster."""

    folder: Path | None
    preview: bool = False
    as_json: bool = False
    cluster: str | None = None
