"""Every page that links lead to: axe-core finds nothing, nothing scrolls sideways, the console is quiet; pictures are kept of each sort of page."""

import re
from urllib.parse import urlparse

from common import LAPTOP, PHONE, TABLET, Browser, run, sort_of, walk


def name_of(path):
    return re.sub(r"[^A-Za-z0-9]+", "-", path).strip("-").lower() or "book"


def test(given, checks):
    address, pictures = given["address"], given["pictures"]
    sorts = {}

    with Browser(LAPTOP) as page:

        def wanted(at):
            # A hundred figures are one sort of page; two of a sort are looked at.
            return len(sorts.get(sort_of(at), [])) < 2

        def visit(at):
            path = urlparse(at).path
            sort = sort_of(at)
            sorts.setdefault(sort, []).append(at)
            for found in page.axe():
                checks.that(False, f"{path} at {LAPTOP[0]} px: {found}")
            checks.that(page.all("h1"), f"{path} has no heading")
            checks.that(page.driver.title != "Not so", f"a link leads to {path}, and nothing is there: {page.words()[:120]}")
            checks.that(page.sideways() <= 0, f"{path} scrolls {page.sideways()} px sideways at {LAPTOP[0]} px")
            if len(sorts[sort]) == 1:
                page.picture(pictures, f"{name_of(sort)}-{LAPTOP[0]}")

        seen = walk(page, address, given["starts"], visit, given.get("most", 160), wanted)
        for complaint in page.complaints():
            checks.that("favicon" in complaint or "404" in complaint, f"the console says: {complaint}")
        checks.figures["pages"], checks.figures["sorts"] = len(seen), len(sorts)
        checks.that(len(sorts) >= given["least_sorts"], f"only {len(sorts)} sorts of page were found: {sorted(sorts)}")

        for size, dark in [(TABLET, False), (PHONE, False), (PHONE, True)]:
            page.resize(size)
            scheme = "dark" if dark else "light"
            features = [{"name": "prefers-color-scheme", "value": scheme}]
            page.driver.execute_cdp_cmd("Emulation.setEmulatedMedia", {"features": features})
            for sort, places in sorts.items():
                page.go(places[0])
                checks.that(page.sideways() <= 0, f"{sort} scrolls {page.sideways()} px sideways at {size[0]} px")
                # Contrast changes with the scheme, targets and order with the width; the tablet repeats the laptop.
                if size != TABLET:
                    for found in page.axe("color-contrast" if dark else None):
                        checks.that(False, f"{sort} at {size[0]} px, {scheme}: {found}")
                page.picture(pictures, f"{name_of(sort)}-{size[0]}{'-dark' if dark else ''}")


run(test)
