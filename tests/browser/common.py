"""What every browser test uses: a real Chromium without a window, the pages it walks, the rules of axe-core, pictures of what it saw.

A script reads one JSON value from standard input (address of a served job book, folder for pictures, and so on) and prints one: the checks made, the
failures found, and figures worth keeping. A check that was not made is not counted.
"""

import json
import os
import re
import sys
import time
import traceback
from urllib.parse import urldefrag, urljoin, urlparse

from selenium import webdriver
from selenium.common.exceptions import StaleElementReferenceException, WebDriverException
from selenium.webdriver.chrome.service import Service
from selenium.webdriver.common.by import By
from selenium.webdriver.support.ui import WebDriverWait

FLAGS = [
    "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
    "--disable-component-update", "--disable-sync", "--disable-dev-shm-usage", "--hide-scrollbars", "--force-color-profile=srgb",
]
LAPTOP, TABLET, PHONE = (1440, 900), (834, 1112), (360, 780)


class Checks:
    """Checks made, and those that failed, each a sentence."""

    def __init__(self):
        self.made, self.failures, self.figures = 0, [], {}

    def that(self, holds, sentence):
        self.made += 1
        if not holds:
            self.failures.append(sentence)
            print(sentence, file=sys.stderr, flush=True)
        return bool(holds)

    def told(self):
        return {"checks": self.made, "failures": self.failures, "figures": self.figures}


def run(test):
    """Runs a script's test on its input; whatever breaks it is a failure with its place."""
    given, checks = json.load(sys.stdin), Checks()
    begun = time.monotonic()
    try:
        test(given, checks)
    except Exception:  # noqa: BLE001: told as a failure, whatever it was
        checks.failures.append("the test broke off: " + traceback.format_exc(limit=6))
    checks.figures["seconds"] = round(time.monotonic() - begun, 1)
    json.dump(checks.told(), sys.stdout)


class Browser:
    """A browser of a size; a context manager, so that none is left running."""

    def __init__(self, size=LAPTOP, scripts=True, dark=False, downloads=None):
        options = webdriver.ChromeOptions()
        options.binary_location = os.environ["HARLWRIGHT_CHROMIUM"]
        options.accept_insecure_certs = True
        for flag in FLAGS:
            options.add_argument(flag)
        wishes = {"profile.default_content_setting_values.automatic_downloads": 1}
        if not scripts:
            wishes["profile.managed_default_content_settings.javascript"] = 2
        if downloads:
            wishes |= {"download.default_directory": downloads, "download.prompt_for_download": False}
        options.add_experimental_option("prefs", wishes)
        options.set_capability("goog:loggingPrefs", {"browser": "ALL"})
        service = Service(executable_path=os.environ["HARLWRIGHT_CHROMEDRIVER"])
        self.driver = webdriver.Chrome(options=options, service=service)
        self.driver.set_page_load_timeout(30)
        self.driver.set_script_timeout(90)
        self.resize(size)
        if dark:
            self.scheme(dark)

    def __enter__(self):
        return self

    def __exit__(self, *_):
        self.driver.quit()

    def resize(self, size):
        """The size of the page itself, below what a window may have."""
        width, height = size
        metrics = {"width": width, "height": height, "deviceScaleFactor": 1, "mobile": width < 500}
        self.driver.execute_cdp_cmd("Emulation.setDeviceMetricsOverride", metrics)

    def scheme(self, dark):
        """Light or dark, as the phone would ask for it."""
        features = [{"name": "prefers-color-scheme", "value": "dark" if dark else "light"}]
        self.driver.execute_cdp_cmd("Emulation.setEmulatedMedia", {"features": features})

    def go(self, address):
        self.driver.get(address)

    def at(self):
        return urlparse(self.driver.current_url).path

    def all(self, selector):
        return self.driver.find_elements(By.CSS_SELECTOR, selector)

    def one(self, selector):
        found = self.all(selector)
        if not found:
            raise AssertionError(f"{self.driver.current_url} has no `{selector}`; it says: {self.words()[:400]}")
        return found[0]

    def words(self):
        return self.driver.find_element(By.TAG_NAME, "body").text

    def wait(self, holds, what, seconds=60):
        """Waits until something holds; a page that is replaced meanwhile is looked at again."""

        def look(_):
            try:
                return holds(self)
            except (StaleElementReferenceException, WebDriverException):
                return False

        return WebDriverWait(self.driver, seconds, poll_frequency=0.1).until(look, f"waited {seconds} s in vain: {what}")

    def press(self, selector):
        """Clicks, and waits for the page that follows."""
        element = self.one(selector)
        self.leave(lambda: self.driver.execute_script("arguments[0].scrollIntoView({block: 'center'})", element) or element.click())

    def leave(self, act):
        before = self.one("html")
        act()

        def gone(_):
            try:
                before.is_enabled()
                return False
            except WebDriverException:
                return True

        WebDriverWait(self.driver, 30, poll_frequency=0.05).until(gone, "waited 30 s in vain for another page")
        self.wait(lambda page: page.driver.execute_script("return document.readyState") == "complete", "the page to load")

    def fill(self, selector, text):
        element = self.one(selector)
        element.clear()
        element.send_keys(text)

    def picture(self, folder, name):
        """The whole page, however long, as a file."""
        size = self.driver.execute_script("return [document.documentElement.clientWidth, document.documentElement.scrollHeight]")
        clip = {"x": 0, "y": 0, "width": size[0], "height": min(size[1], 12000), "scale": 1}
        import base64

        shot = self.driver.execute_cdp_cmd("Page.captureScreenshot", {"captureBeyondViewport": True, "clip": clip})
        os.makedirs(folder, exist_ok=True)
        with open(os.path.join(folder, name + ".png"), "wb") as file:
            file.write(base64.b64decode(shot["data"]))

    def complaints(self):
        """What the browser's console holds: a script that failed, a rule that was broken."""
        return [entry["message"] for entry in self.driver.get_log("browser") if entry["level"] in ("SEVERE", "WARNING")]

    def sideways(self):
        """How far the page scrolls sideways, px."""
        return self.driver.execute_script("return document.documentElement.scrollWidth - document.documentElement.clientWidth")

    def axe(self, rule=None):
        """Violations of WCAG 2.2 A and AA by axe-core, each with where it is; of one rule alone where it is named."""
        if not self.driver.execute_script("return typeof axe === 'object'"):
            with open(os.environ["HARLWRIGHT_AXE"], encoding="utf-8") as file:
                self.driver.execute_script(file.read())
        rules = [rule] if rule else ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
        found = self.driver.execute_async_script(
            "const done = arguments[1];"
            "axe.run(document, {runOnly: arguments[0], resultTypes: ['violations']})"
            ".then(found => done(found.violations), error => done([{id: 'broke', help: String(error), nodes: []}]));",
            rules,
        )
        return [f"{one['id']}: {one['help']}: {'; '.join(' '.join(map(str, node['target'])) for node in one['nodes'][:4])}" for one in found]


LENGTH = "input[name$='.length_m']"


def longer(field, metres):
    """A wall's length as it stands, a little longer: its openings still lie on it."""
    return f"{float(field.get_attribute('value')) + metres:.2f}"


def links(page, address):
    """Addresses on this page that lead to pages of the same book."""
    here = urlparse(address)
    found = page.driver.execute_script("return [...document.querySelectorAll('a[href]:not([download])')].map(a => a.getAttribute('href'))")
    for href in found:
        whole = urldefrag(urljoin(page.driver.current_url, href))[0]
        if urlparse(whole).netloc == here.netloc:
            yield whole


def is_page(address):
    """True for what is shown as a page and not taken away as a file; the site sheet, long as a season, has a test of its own."""
    path = urlparse(address).path
    last = path.rsplit("/", 1)[-1]
    files = (".pdf", ".csv", ".ics", ".toml", ".json", ".zip", ".svg", ".xlsx", ".txt")
    return not last.endswith(files) and "/files/" not in path and not path.endswith(("/backup/book", "/progress", "/site.html"))


def sort_of(address):
    """The sort of a page: the same page for another job, wall, day or figure is of the same sort."""
    path = re.sub(r"^/jobs/[^/]+", "/jobs/JOB", urlparse(address).path)
    path = re.sub(r"/form/walls\.[^/]+", "/form/walls.WALL", path)
    path = re.sub(r"/why/.+", "/why/FIGURE", path)
    path = re.sub(r"/calendar/[^/]+", "/calendar/WALL", path)
    path = re.sub(r"/\d{4}-\d\d-\d\d", "/DAY", path)
    return re.sub(r"/(plans|page)/\d+", r"/\1/N", path)


def walk(page, address, starts, visit, most=200, wanted=lambda at: True):
    """Visits every page that can be reached by links, once each; a page that is not wanted is passed by unopened."""
    waiting, seen = [urljoin(address, start) for start in starts], set()
    while waiting and len(seen) < most:
        at = waiting.pop(0)
        if at in seen or not is_page(at) or not wanted(at):
            continue
        seen.add(at)
        page.go(at)
        visit(at)
        waiting.extend(link for link in links(page, address) if link not in seen)
    return seen
