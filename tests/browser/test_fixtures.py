"""What the fixtures make of a test, seen from outside by running a test with them."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
OPTIONS = (
    "-p",
    "tests.conftest",
    "-p",
    "tests.browser.conftest",
    "-p",
    "no:cacheprovider",
    "-n0",
    "-rs",
    "--color=no",
)
TESTS = """
def test_quiet(open_book, tmp_path):
    (tmp_path / "quiet.html").write_text("<!doctype html><p>A block</p>")
    open_book(tmp_path / "quiet.html")

def test_loud(open_book, tmp_path):
    (tmp_path / "loud.html").write_text("<!doctype html><script>console.error('lost')</script>")
    open_book(tmp_path / "loud.html")
"""


def run(folder: Path, **environment: str) -> subprocess.CompletedProcess[str]:
    """Run two tests, of a quiet book and of one that complains."""
    file = folder / "test_two_books.py"
    file.write_text(TESTS)
    inherited = {name: value for name, value in os.environ.items() if name != "TRUEUP_BROWSER"}
    return subprocess.run(
        [sys.executable, "-m", "pytest", *OPTIONS, f"--rootdir={folder}", file],
        cwd=ROOT,
        env=inherited | environment,
        capture_output=True,
        text=True,
        check=False,
    )


@pytest.mark.usefixtures("browser")
def test_a_complaint_fails_the_test_that_opened_the_book(tmp_path):
    ran = run(tmp_path)
    assert ran.returncode == 1
    assert "2 passed, 1 error" in ran.stdout
    assert "ERROR at teardown of test_loud" in ran.stdout
    assert "console error: lost" in ran.stdout


def test_without_a_browser_a_book_is_not_opened_and_the_reason_given(tmp_path):
    ran = run(tmp_path, PATH=str(tmp_path))
    assert ran.returncode == 0
    assert "2 skipped" in ran.stdout
    assert "install Debian's package chromium" in ran.stdout


def test_without_a_browser_that_is_required_tests_fail(tmp_path):
    ran = run(tmp_path, PATH=str(tmp_path), TRUEUP_BROWSER="required")
    assert ran.returncode == 1
    assert "2 errors" in ran.stdout
    assert "install Debian's package chromium" in ran.stdout
