"""What axe-core finds wrong with a page for a reader who does not see it, or uses no mouse."""

from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page

GRAVE = ("serious", "critical")


def serious_findings(page: Page) -> list[str]:
    """Return the serious and critical findings about what the page shows now, one line an element.

    The text of axe-core comes from an installed package and is evaluated in the page through the
    debugger's door, which no content security policy shuts. So the policy stays in force while the
    page is looked at; passing by it (`bypass_csp`) would test a page that no reader has.
    """
    found = Axe().run(page).response["violations"]
    return [
        f"{violation['impact']}: {violation['help']} ({violation['id']}): {node['html']}"
        for violation in found
        if violation["impact"] in GRAVE
        for node in violation["nodes"]
    ]
