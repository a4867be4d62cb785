"""Every page that links lead to: axe-core finds nothing, nothing scrolls sideways, the console is quiet; pictures are kept of each sort of page."""

import re
from urllib.parse import urlparse

from common import LAPTOP, PHONE, TABLET, Browser, run, sort_of, walk


def name_of(path):
    return re.sub(r"[^A-Za-z0-9]+", "-", path).strip("-").lower() or "book"


def look(page, checks, path, pictures):
    """A page at every width in light, and at a phone's in dark, as it stands: nothing is loaded again between."""
    name = name_of(sort_of(path))
    for size, dark in [(LAPTOP, False), (TABLET, False), (PHONE, False), (PHONE, True)]:
        page.resize(size)
        page.scheme(dark)
        where = f"{path} at {size[0]} px{', dark' if dark else ''}"
        checks.that(page.sideways() <= 0, f"{where} scrolls {page.sideways()} px sideways")
        # Order and targets change with the width, colours with the scheme; between laptop and phone nothing else is to be found.
        if size != TABLET:
            for found in page.axe("color-contrast" if dark else None):
                checks.that(False, f"{where}: {found}")
        page.picture(pictures, f"{name}-{size[0]}{'-dark' if dark else ''}")
    page.resize(LAPTOP)
    page.scheme(False)


def test(given, checks):
    address, sorts = given["address"], set()

    with Browser(LAPTOP) as page:

        def wanted(at):
            return sort_of(at) not in sorts

        def visit(at):
            path = urlparse(at).path
            sorts.add(sort_of(at))
            checks.that(page.all("h1"), f"{path} has no heading")
            if checks.that(page.driver.title != "Not so", f"a link leads to {path}, and nothing is there: {page.words()[:120]}"):
                look(page, checks, path, given["pictures"])

        walk(page, address, given["starts"], visit, wanted=wanted)
        for complaint in page.complaints():
            checks.that("favicon" in complaint, f"the console says: {complaint}")
        checks.figures["pages"] = len(sorts)
        checks.that(len(sorts) >= given["least_sorts"], f"only {len(sorts)} sorts of page were found: {sorted(sorts)}")


run(test)
