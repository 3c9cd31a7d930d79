"""The places commands are run in: a small theatre's wardrobe, and what else a verb needs.

Everything is made by commands of the program itself and by plain git, in the case of a workshop,
and kept there as templates. `place` holds `store` (the wardrobe), `other` (another maker's clone),
`things` (a drawing, a fitting, a size table, a photo) and `out`, where files are to be written.
"""

import subprocess
from collections.abc import Mapping

from PIL import Image

from tests.faults.commands import Outcome, Workshop

STORE = ("-C", "store")
_FITTING = """why = "pinned at the fitting"
[[corrections]]
kind = "scoop-armhole"
piece = "back"
by = "3mm"
[[corrections]]
kind = "shorten-shoulder"
by = "2mm"
"""
_SIZES = """size,bust,waist,back-length,sleeve-length
s,84,64,37,53
l,92,72,39,55
"""
_SMOCK = """format = 1
name = "smock"

[[parents]]
name = "village"
"""

_HISTORY = """
body Ada --bust 88cm --waist 68cm --back-length 38cm --date 2025-02-28 --taken-by Mina
draft village --for Ada --sleeve-length 54cm
derive easy --from village --block
style easy shorten-shoulder --by -5mm
derive blouse --from easy
style blouse lower-neck --piece front --by 20mm
derive vest --from village:front,back
style vest redraw-edge --edge front.armhole --through 30%:20mm
derive own --from village
correct own scoop-armhole --piece front --by 8mm
cut blouse --name adas-blouse --wearer Ada --date 2025-03-01
cut vest --name berts-vest --wearer Bert --date 2025-03-02
note adas-blouse armhole-gapes --place front.armhole --amount 1cm --date 2025-03-05
note berts-vest armhole-gapes --place back.armhole --date 2025-03-05 --photo things/photo.jpg
body Ada --bust 89cm --date 2025-03-06
correct village scoop-armhole --piece front --by 20mm
"""

_OF_THE_OTHER = (
    "style blouse lengthen --by 5cm",
    "style vest lengthen --by 3cm",
    "derive cape --from village",
)
_MEANWHILE = "style blouse widen-neck --by 10mm"


class Scenes:
    """The templates of a workshop, by name, and the ids that commands on them need."""

    def __init__(self, workshop: Workshop) -> None:
        self._workshop = workshop
        self.facts: dict[str, str] = {}
        self._begin()
        workshop.keep("nothing")
        self._play()
        workshop.keep("theatre")
        self._edit()
        workshop.keep("edited")
        self._edit_late()
        workshop.keep("edited late")
        self._damage()
        workshop.keep("damaged")
        self._second_maker()
        workshop.keep("fetched")
        self._pull()
        workshop.keep("stopped")

    def _begin(self) -> None:
        self._workshop.clear()
        for name in ("things", "out"):
            (self._workshop.place / name).mkdir()
        Image.effect_noise((400, 300), 60).convert("RGB").save(
            self._workshop.place / "things/photo.jpg"
        )
        (self._workshop.place / "things/fitting.toml").write_text(_FITTING)
        (self._workshop.place / "things/sizes.csv").write_text(_SIZES)

    def _play(self) -> None:
        made(self._workshop, "start", "store", "--name", "theatre", "--unit", "cm")
        for line in _HISTORY.split("\n"):
            if line:
                made(self._workshop, *line.split(), *STORE)
        made(self._workshop, "export", "village", "things/village.svg", *STORE)
        made(self._workshop, "walk", "village", "--picture", "out/there.svg", *STORE)
        self.facts = self._found()

    def _found(self) -> dict[str, str]:
        facts = {
            name: made(self._workshop, "history", name, "--json", *STORE).document["chain"][0]["id"]
            for name in ("village", "easy", "blouse", "own")
        }
        open_ones = made(self._workshop, "conflicts", "--json", *STORE, expect=1).document
        facts["conflict"] = open_ones["conflicts"][0]["id"]
        facts["remedy"] = open_ones["conflicts"][0]["remedies"][0]["name"]
        for name, garment in (("ada", "adas-blouse"), ("bert", "berts-vest")):
            shown = made(self._workshop, "garment", garment, "--json", *STORE).document
            facts[name] = shown["garment"]["open_notes"][0]
        return facts

    def _edit(self) -> None:
        """Edit by hand: a comment in one file, an amount in another, and a pattern of one's own."""
        blouse = self._workshop.place / "store/patterns/blouse.toml"
        blouse.write_text("# for the summer\n" + blouse.read_text())
        own = self._workshop.place / "store/patterns/own.toml"
        assert '"8mm"' in own.read_text()
        own.write_text(own.read_text().replace('"8mm"', '"9mm"'))
        (self._workshop.place / "store/patterns/smock.toml").write_text(_SMOCK)

    def _edit_late(self) -> None:
        """Save from an editor that was opened before the latest step, which changed its file."""
        self._workshop.take("theatre")
        village = self._workshop.place / "store/blocks/village.toml"
        opened = self._git("-C", "store", "show", "HEAD~1:blocks/village.toml")
        assert opened != village.read_text()
        village.write_text("# for the summer\n" + opened)

    def _damage(self) -> None:
        """Lose one of git's objects, tear its index, and empty a file."""
        self._workshop.take("theatre")
        store = self._workshop.place / "store"
        lost = self._git("-C", "store", "rev-parse", "HEAD:blocks/easy.toml").strip()
        (store / ".git/objects" / lost[:2] / lost[2:]).unlink()
        index = store / ".git/index"
        index.write_bytes(index.read_bytes()[:40])
        (store / "patterns/vest.toml").write_bytes(b"")

    def _second_maker(self) -> None:
        """Let another maker work in a clone, and fetch what they did."""
        self._workshop.take("theatre")
        self._git("clone", "--quiet", "store", "other")
        for line in _OF_THE_OTHER:
            made(self._workshop, *line.split(), "-C", "other")
        made(self._workshop, *_MEANWHILE.split(), *STORE)
        self._git("-C", "store", "fetch", "--quiet", str(self._workshop.place / "other"), "main")

    def _pull(self) -> None:
        """Let git begin to join the two, and stop at a conflict of lines."""
        self._git("-C", "store", "merge", "--quiet", "--no-edit", "FETCH_HEAD", fails=True)
        assert (self._workshop.place / "store/.git/MERGE_HEAD").exists()

    def _git(self, *words: str, fails: bool = False) -> str:
        done = subprocess.run(
            ["git", *words],
            cwd=self._workshop.place,
            env=self._workshop.environment,
            capture_output=True,
            text=True,
            check=False,
        )
        assert fails or done.returncode == 0, done.stderr
        return done.stdout


def made(workshop: Workshop, *words: str, expect: int = 0) -> Outcome:
    """Run a command that must succeed."""
    outcome = workshop.run(*words)
    assert outcome.code == expect, f"{' '.join(words)}: {outcome.err}"
    return outcome


def filled(words: tuple[str, ...], facts: Mapping[str, str]) -> tuple[str, ...]:
    """Return the words of a command with the ids of the wardrobe in their places."""
    return tuple(word.format_map(facts) for word in words)
