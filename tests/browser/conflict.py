"""Two tabs edit the same wall: the second to keep is told what the first kept, and loses nothing it typed."""

from common import LAPTOP, LENGTH, Browser, longer, run


def test(given, checks):
    address, slug = given["address"], given["slug"]
    with Browser(LAPTOP) as one, Browser(LAPTOP) as two:
        for page in (one, two):
            page.go(f"{address}/jobs/{slug}/survey")
            page.press("a[href*='/form/walls.']")
        first, second = longer(one.one(LENGTH), 0.05), longer(one.one(LENGTH), 0.1)
        one.fill(LENGTH, first)
        one.press("form[data-keeps] button.first")
        two.fill(LENGTH, second)
        two.press("form[data-keeps] button.first")
        words = two.words()
        checks.that(two.all("[role=alert]"), "the second tab is not alarmed")
        checks.that(first.rstrip("0") in words, "the second tab does not say what the first kept")
        checks.that(two.one(LENGTH).get_attribute("value") == second, "what the second tab typed is lost")
        for found in two.axe():
            checks.that(False, f"the conflict: {found}")
        two.picture(given["pictures"], "conflict")
        two.press("form[data-keeps] button.first")
        two.go(two.driver.current_url)
        kept = two.one(LENGTH).get_attribute("value")
        checks.that(kept == second, f"after looking it through the second tab keeps {kept}")
        one.go(f"{address}/jobs/{slug}/history")
        checks.that(one.words().count("length") >= 2, "the history does not hold both changes")


run(test)
