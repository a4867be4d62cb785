"""Every page with scripts off: it says what it has to say, its forms are there, and a wall is changed, a plan reckoned and a log handed in without one."""

import json
from urllib.parse import urlparse

from common import LENGTH, PHONE, Browser, longer, run, walk

ENTRY = {"id": "scriptless0000001", "at": "2027-05-11T08:30:00+01:00", "who": "Ann", "kind": "damped", "wall": "north", "words": "<b>by hand</b>"}


def test(given, checks):
    address, slug = given["address"], given["slug"]
    with Browser(PHONE, scripts=False) as page:
        page.go("data:text/html,<p>off</p><script>document.write('on')</script>")
        checks.that(page.words() == "off", "the scripts of this browser are not off")

        visited = set()

        def visit(at):
            path = urlparse(at).path
            visited.add(path)
            headings = page.all("h1")
            checks.that(headings and headings[0].text.strip(), f"{path} says nothing without a script")
            checks.that("undefined" not in page.words() and "NaN" not in page.words(), f"{path} shows a figure that is none")

        walk_without_scripts(page, address, given["starts"], visit)
        checks.figures["pages"] = len(visited)
        checks.that(len(visited) >= given["least_sorts"], f"only {len(visited)} pages were found")

        page.go(f"{address}/jobs/{slug}/survey")
        page.press("a[href*='/form/walls.']")
        new = longer(page.one(LENGTH), 0.05)
        page.fill(LENGTH, new)
        page.press("form[data-keeps] button.first")
        page.go(page.driver.current_url)
        checks.that(page.one(LENGTH).get_attribute("value") == new, "a wall cannot be changed without a script")
        page.go(f"{address}/jobs/{slug}")
        page.press("form[action$='/reckoning'] button")
        page.wait(lambda p: p.driver.get(f"{address}/jobs/{slug}") or "Plan revision" in p.words() and not p.all("form[action$='/reckoning/stop']"), "the plan", 90)

        page.go(f"{address}/jobs/{slug}/log")
        file = {"format": "site-log/1", "job": {"name": "x", "slug": slug, "revision": 1}, "entries": [ENTRY]}
        page.fill("#entries", json.dumps(file))
        page.press("form[action$='/log'] button")
        checks.that("One entry" in page.words() and "<b>by hand</b>" in page.words(), "an entry cannot be handed in without a script, or its markup is not shown as typed")
        page.fill("#entries", "{}")
        page.press("form[action$='/log'] button")
        checks.that("Nothing was taken in" in page.words(), "what is no log is not refused in words")
        page.go(f"{address}/jobs/{slug}/site.html")
        checks.that("Week of" in page.words() and "Take care" in page.words(), "the site sheet cannot be read without a script")


def walk_without_scripts(page, address, starts, visit):
    """As `walk`, with links read by the driver, since the page runs no script."""
    import common

    def plain(self, at):
        for link in self.all("a[href]:not([download])"):
            href = link.get_attribute("href") or ""
            if urlparse(href).netloc == urlparse(at).netloc:
                yield href.split("#")[0]

    common.links = lambda browser, at: list(plain(browser, at))
    sorts = {}

    def wanted(at):
        sorts[common.sort_of(at)] = sorts.get(common.sort_of(at), 0) + 1
        return sorts[common.sort_of(at)] <= 1

    walk(page, address, starts, visit, 80, wanted)


run(test)
