"""The site sheet on a phone: opened as a file with no server and no net, an entry logged with a tap, kept over a closing of the page, handed over as a file,
and sent to the job book, which asks before it takes anything in."""

import glob
import json
import os
import time
import urllib.request

from common import PHONE, Browser, run


def test(given, checks):
    address, slug, folder = given["address"], given["slug"], given["pictures"]
    downloads = os.path.join(folder, "down-sheet")
    os.makedirs(downloads, exist_ok=True)
    for old in glob.glob(os.path.join(downloads, "*")):
        os.remove(old)
    with urllib.request.urlopen(f"{address}/jobs/{slug}/site.html?keep=1") as answer:
        kept = os.path.join(downloads, "site.html")
        with open(kept, "wb") as file:
            file.write(answer.read())

    with Browser(PHONE, downloads=downloads) as page:
        page.driver.execute_cdp_cmd("Network.enable", {})
        offline = {"offline": True, "latency": 0, "downloadThroughput": 0, "uploadThroughput": 0}
        page.driver.execute_cdp_cmd("Network.emulateNetworkConditions", offline)
        page.go("file://" + kept)
        checks.that("Week of" in page.words() or page.all("#which"), "the sheet shows no week")
        checks.that(len([week for week in page.all(".week") if week.is_displayed()]) == 1, "the sheet does not show one week at a time")
        for found in page.axe():
            checks.that(False, f"the sheet: {found}")
        checks.that(page.sideways() <= 0, f"the sheet scrolls {page.sideways()} px sideways")
        small = page.driver.execute_script(
            "return [...document.querySelectorAll('button, select, input')].filter(e => e.offsetParent && e.getBoundingClientRect().height < 47.5).map(e => e.id || e.textContent)"
        )
        checks.that(not small, f"targets under 48 px: {small}")
        page.picture(folder, "sheet-360")
        for text in ("£", "€", "GBP"):
            checks.that(text not in page.words(), f"the sheet shows {text}")

        tapped = page.driver.execute_script(
            "const week = [...document.querySelectorAll('.week')].find(w => w.querySelector('.tap button'));"
            "const which = document.getElementById('which'); which.value = week.id; which.dispatchEvent(new Event('change'));"
            "const button = week.querySelector('.tap button'); button.scrollIntoView(); button.click(); return button.getAttribute('aria-label');"
        )
        checks.that("Kept on this phone" in page.one("#kept").text or "Kept" in page.one("#kept").get_attribute("textContent"), f"{tapped} was not kept")
        page.fill("#who", "Ann </script>")
        page.fill("#words", "rain from four o'clock <b>hard</b>")
        page.driver.execute_script("document.getElementById('kind').value = 'reading'")
        page.driver.execute_script("arguments[0].click()", page.one("#entry button"))
        checks.that(len(page.all("#entries li")) == 2, f"{len(page.all('#entries li'))} entries are kept, not two")
        page.go("about:blank")
        page.go("file://" + kept)
        checks.that(len(page.all("#entries li")) == 2, "the entries did not outlive the closing of the page")
        checks.that(page.one("#who").get_attribute("value") == "Ann </script>", "who tells was forgotten")

        page.driver.execute_script("arguments[0].click()", page.one("#entries button"))
        checks.that(len(page.all("#entries li")) == 1, "an entry cannot be taken back")
        page.driver.execute_script("arguments[0].click()", page.one("#file"))
        end = time.monotonic() + 15
        while not glob.glob(os.path.join(downloads, "site-log-*.json")) and time.monotonic() < end:
            time.sleep(0.1)
        files = glob.glob(os.path.join(downloads, "site-log-*.json"))
        checks.that(files, "the log did not come out as a file")
        if files:
            with open(files[0], encoding="utf-8") as file:
                told = json.load(file)
            checks.that(told["format"] == "site-log/1" and len(told["entries"]) == 1 and told["job"]["slug"] == slug, f"the file holds {told}")

        online = {"offline": False, "latency": 0, "downloadThroughput": -1, "uploadThroughput": -1}
        page.driver.execute_cdp_cmd("Network.emulateNetworkConditions", online)
        page.fill("#words", "damped at noon")
        page.driver.execute_script("document.getElementById('kind').value = 'damped'")
        page.driver.execute_script("arguments[0].click()", page.one("#entry button"))
        checks.that(page.one("#send").is_displayed(), "with the address of a book the sheet does not offer to send")
        page.leave(lambda: page.driver.execute_script("arguments[0].click()", page.one("#send")))
        page.wait(lambda p: "site-log/1" in (p.one("#entries").get_attribute("value") or ""), "the entries to come with the address", 20)
        checks.that(page.at() == f"/jobs/{slug}/log/hand-in", f"sending led to {page.at()}")
        for found in page.axe():
            checks.that(False, f"the hand-in: {found}")
        with urllib.request.urlopen(f"{address}/api/jobs/{slug}/log") as answer:
            before = len(json.load(answer)["entries"])
        page.press("form[data-hand-in] button")
        with urllib.request.urlopen(f"{address}/api/jobs/{slug}/log") as answer:
            entries = json.load(answer)["entries"]
        checks.that(len(entries) == before + 2, f"{len(entries) - before} entries were taken in, not two")
        checks.that(any("<b>" in entry["told"].get("words", "") or "damped" in entry["told"].get("words", "") for entry in entries), "the words did not come through as typed")
        page.picture(folder, "sheet-handed-in-360")


run(test)
