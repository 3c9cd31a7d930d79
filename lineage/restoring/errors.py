"""What can go wrong while a wardrobe is mended."""

from dataclasses import dataclass

from trueup.lineage.errors import Damaged, printable


@dataclass(eq=False)
class BeyondRestoring(Damaged):
    """What is stored is damaged in a way that cannot even be looked over."""

    def __str__(self) -> str:
        return (
            f"{printable(self.place)} is damaged in a way that cannot be looked over: "
            f"{printable(self.reason)}; nothing was changed, so keep the folder as it is and work "
            "on in another clone."
        )
