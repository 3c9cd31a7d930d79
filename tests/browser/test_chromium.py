import pytest

from tests.browser.chromium import Absent, chromium


def nowhere(name: str) -> str | None:
    return None


def test_without_a_browser_the_tests_are_skipped_and_say_what_to_install():
    absent = chromium(nowhere, {})
    assert isinstance(absent, Absent)
    assert not absent.fails
    assert "install Debian's package chromium" in absent.sentence


def test_without_a_browser_the_tests_fail_where_it_is_required():
    absent = chromium(nowhere, {"TRUEUP_BROWSER": "required"})
    assert isinstance(absent, Absent)
    assert absent.fails


@pytest.mark.parametrize("environment", [{}, {"TRUEUP_BROWSER": "required"}])
@pytest.mark.parametrize(
    ("installed", "found"),
    [
        ({"chromium": "/usr/bin/chromium"}, "/usr/bin/chromium"),
        ({"google-chrome": "/opt/chrome"}, "/opt/chrome"),
        ({"google-chrome": "/opt/chrome", "chromium": "/usr/bin/chromium"}, "/usr/bin/chromium"),
    ],
)
def test_a_browser_that_is_installed_is_taken(installed, found, environment):
    assert chromium(installed.get, environment) == found
