"""The main journeys as a person makes them, at the width of a laptop and of a phone: a new job in four questions, a wall changed, a mix changed, findings
seen, the plan reckoned again, two revisions compared, the pack taken away, the site sheet opened."""

import glob
import os
import time
import urllib.request

from selenium.webdriver.support.ui import Select

from common import LAPTOP, LENGTH, PHONE, Browser, longer, run


def reckoned(page, slug, number):
    """Waits until a plan of a number stands on the job's page."""
    page.wait(lambda p: p.driver.get(f"{ADDRESS}/jobs/{slug}") or f"Plan revision {number}" in p.words(), f"plan {number}", 90)


def new_job(page, checks, name):
    page.go(ADDRESS + "/")
    page.press("a[href='/new']")
    page.fill("#name", name)
    page.fill("#place", "Port Calder")
    page.press("form button[type=submit]")
    slug = page.at().split("/")[2]
    reckoned(page, slug, 1)
    checks.that("m²" in page.words(), f"the first sheet of {slug} gives no area")
    return slug


def edit_wall(page, checks, slug):
    page.go(f"{ADDRESS}/jobs/{slug}/survey")
    page.press("a[href*='/form/walls.']")
    field, new = LENGTH, longer(page.one(LENGTH), 0.25)
    page.fill(field, "six yards")
    page.press("form[data-keeps] button.first")
    checks.that(page.all("[aria-invalid=true]"), "a length that is no number is not marked at its field")
    checks.that(page.one(field).get_attribute("value") == "six yards", "what was typed is not shown again")
    page.fill(field, new)
    page.press("form[data-keeps] button.first")
    checks.that(not page.all("[aria-invalid=true]"), "a good length was refused")
    page.go(page.driver.current_url)
    checks.that(page.one(field).get_attribute("value") == new, "the new length was not kept")
    return new


def change_mix(page, checks, slug):
    page.go(f"{ADDRESS}/jobs/{slug}/form/system")
    lime = Select(page.one("select[name='system.lime']"))
    before = lime.first_selected_option.get_attribute("value")
    other = next(option.get_attribute("value") for option in lime.options if option.get_attribute("value") not in ("", before, "quicklime-cl90"))
    lime.select_by_value(other)
    page.fill("input[name='system.colour']", "warm white")
    page.press("form[data-keeps] button.first")
    checks.that(not page.all("[aria-invalid=true]"), f"the lime {other} was refused: {page.words()[:300]}")
    page.go(page.driver.current_url)
    kept = Select(page.one("select[name='system.lime']")).first_selected_option.get_attribute("value")
    checks.that(kept == other, f"the mix has {kept}, not {other}")


def again(page, checks, slug):
    page.go(f"{ADDRESS}/jobs/{slug}")
    checks.that("was changed since" in page.words(), "a changed job does not say that its plan is old")
    page.press("form[action$='/reckoning'] button")
    reckoned(page, slug, 2)


def compare(page, checks, slug, new, pictures, width):
    page.go(f"{ADDRESS}/jobs/{slug}/history")
    page.press("form[action$='/compare'] button")
    words = page.words()
    checks.that(new in words, "the comparison does not tell of the new length")
    page.picture(pictures, f"journey-compare-{width}")


def take_pack(page, checks, slug, downloads):
    page.go(f"{ADDRESS}/jobs/{slug}/history")
    links = [link.get_attribute("href") for link in page.all("a[download]")]
    names = {link.rsplit("/", 1)[-1] for link in links}
    checks.that({"proposal.pdf", "site.pdf", "damping.pdf", "order.csv", "programme.ics", "site.html", "plan.json"} <= names, f"the pack holds {sorted(names)}")
    page.driver.execute_script("arguments[0].click()", page.one("a[download][href$='order.csv']"))
    end = time.monotonic() + 15
    while not glob.glob(os.path.join(downloads, "*.csv")) and time.monotonic() < end:
        time.sleep(0.1)
    checks.that(glob.glob(os.path.join(downloads, "*.csv")), "the order did not come down as a file")
    for link in links:
        with urllib.request.urlopen(link) as answer:
            checks.that(answer.status == 200 and len(answer.read()) > 100, f"{link} is empty")
            checks.that("attachment" in answer.headers.get("Content-Disposition", ""), f"{link} is not given out as a file")


def undo(page, checks, slug):
    page.go(f"{ADDRESS}/jobs/{slug}/history")
    page.press("form[action$='/undo'] button")
    page.go(f"{ADDRESS}/jobs/{slug}/history")
    checks.that("undone" in page.words(), "the history does not tell of what was undone")
    page.press("form[action$='/redo'] button")


def test(given, checks):
    global ADDRESS
    ADDRESS = given["address"]
    for size in (LAPTOP, PHONE):
        width = size[0]
        downloads = os.path.join(given["pictures"], f"down-{width}")
        os.makedirs(downloads, exist_ok=True)
        for old in glob.glob(os.path.join(downloads, "*")):
            os.remove(old)
        with Browser(size, downloads=downloads) as page:
            begun = time.monotonic()
            slug = new_job(page, checks, f"Byre {width}")
            checks.figures[f"first plan at {width}, s"] = round(time.monotonic() - begun, 1)
            page.picture(given["pictures"], f"journey-first-plan-{width}")
            new = edit_wall(page, checks, slug)
            change_mix(page, checks, slug)
            page.picture(given["pictures"], f"journey-mix-{width}")
            again(page, checks, slug)
            page.go(f"{ADDRESS}/jobs/{slug}/coats")
            checks.that(any(word in page.words().lower() for word in ("think", "note", "stop")), "the coats show no finding")
            compare(page, checks, slug, new, given["pictures"], width)
            take_pack(page, checks, slug, downloads)
            undo(page, checks, slug)
            for complaint in page.complaints():
                checks.that("422" in complaint or "favicon" in complaint, f"the console says: {complaint}")


run(test)
