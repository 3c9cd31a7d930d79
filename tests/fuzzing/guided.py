"""Fuzz what reads from outside, led by the lines of the program that an input reaches.

    pip install atheris
    python -m tests.fuzzing.guided [TARGET ...] [--minutes N] [--keep FOLDER]

Each target gets so many minutes (2 unless given), from a corpus made of the sample wardrobe. What
it finds, it writes to the folder to keep (`tests/fuzzing/found` unless given), in a folder named
after the target; `test_fuzz.py` tries whatever lies there from then on. Ends by itself; exits
with 1 where something was found. atheris is no part of the test extra: it comes for few systems.
"""

import argparse
import subprocess
import sys
import tempfile
from importlib.util import find_spec
from pathlib import Path

from tests.warm import ROOT, environment

LONGEST_RUN = 20  # seconds for one input; each takes a few milliseconds
MOST_MEMORY = 1024  # MB; a gigabyte is the bound that is promised
CHILD = "--one"


def fuzz(target: str, corpus: Path, keep: Path, seconds: int) -> None:
    """Fuzz one target in this process; ends the process."""
    import atheris  # type: ignore[import-not-found]  # noqa: PLC0415

    with atheris.instrument_imports(include=["trueup"]):
        from tests.fuzzing.targets import TARGETS, only_declared  # noqa: PLC0415

    def one(content: bytes) -> None:
        only_declared(TARGETS[target], content)

    atheris.Setup(
        [
            sys.argv[0],
            str(corpus),
            f"-max_total_time={seconds}",
            f"-artifact_prefix={keep}/",
            f"-timeout={LONGEST_RUN}",
            f"-rss_limit_mb={MOST_MEMORY}",
            "-max_len=20000",
            "-print_final_stats=1",
            "-verbosity=0",
        ],
        one,
    )
    atheris.Fuzz()


def sample(place: Path) -> dict[str, list[bytes]]:
    """Play the sample wardrobe into a folder, and return its files by the target they are for."""
    from tests.fuzzing.targets import renamed, seeds  # noqa: PLC0415
    from trueup.cli.demo.playing import play  # noqa: PLC0415
    from trueup.cli.demo.telling import sample_story  # noqa: PLC0415

    play(sample_story(), place)
    found = {target: list(examples) for target, examples in seeds().items()}
    found["settings"].append((place / "wardrobe.toml").read_bytes())
    found["node"] += [renamed(f.read_bytes(), "blouse") for f in place.glob("*s/*.toml")
                      if f.parent.name in ("blocks", "patterns")]  # fmt: skip
    found["garment"] += [renamed(f.read_bytes(), "linen") for f in place.glob("garments/*.toml")]
    found["body"] += [renamed(f.read_bytes(), "linen") for f in place.glob("bodies/*.toml")]
    found["outline"] += [f.read_bytes() for f in place.glob("garments/*.svg")]
    found["drawing"] += [f.read_bytes() for f in place.glob("blocks/*.svg")]
    found["photo"] += [f.read_bytes() for f in place.glob("photos/*")]
    return found


def main() -> int:
    """Run it from the command line."""
    if CHILD in sys.argv:
        target, corpus, keep, seconds = sys.argv[sys.argv.index(CHILD) + 1 :][:4]
        fuzz(target, Path(corpus), Path(keep), int(seconds))
        return 0
    from tests.fuzzing.targets import TARGETS  # noqa: PLC0415

    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawTextHelpFormatter
    )
    parser.add_argument("targets", nargs="*", default=list(TARGETS), metavar="TARGET")
    parser.add_argument("--minutes", type=float, default=2.0)
    parser.add_argument("--keep", type=Path, default=Path(__file__).parent / "found")
    asked = parser.parse_args()
    if find_spec("atheris") is None:
        print("atheris is not installed; see above.\n", __doc__)
        return 2
    wrong = 0
    with tempfile.TemporaryDirectory(prefix="trueup-fuzzing-") as folder:
        place = Path(folder)
        examples = sample(place / "wardrobe")
        for target in asked.targets:
            corpus, keep = place / target, asked.keep / target
            corpus.mkdir()
            keep.mkdir(parents=True, exist_ok=True)
            before = set(keep.iterdir())
            for number, content in enumerate(examples[target]):
                (corpus / str(number)).write_bytes(content)
            child = [sys.executable, "-m", "tests.fuzzing.guided", CHILD, target]
            surroundings = {**environment(place / "home"), "TRUEUP_FUZZED": str(place / "wardrobe")}
            done = subprocess.run(
                [*child, str(corpus), str(keep), str(int(60 * asked.minutes))],
                cwd=ROOT, env=surroundings, capture_output=True, text=True, check=False,
            )  # fmt: skip
            found = sorted(set(keep.iterdir()) - before)
            wrong += len(found)
            runs = [line for line in done.stderr.splitlines() if "number_of_executed" in line]
            print(
                f"{target}: {' '.join(runs) or done.stderr[-600:]}; {len(found)} found", flush=True
            )
            if found:
                print(done.stderr[-3000:], flush=True)
            if not any(keep.iterdir()):
                keep.rmdir()
    return 1 if wrong else 0


if __name__ == "__main__":
    raise SystemExit(main())
