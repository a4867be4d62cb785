"""One journey with the keyboard alone: into the demo's survey, a wall's length changed and kept. Nothing is clicked; what has the focus is always seen."""

from selenium.webdriver.common.action_chains import ActionChains
from selenium.webdriver.common.keys import Keys

from common import LAPTOP, LENGTH, Browser, longer, run

FOCUSED = """
const at = document.activeElement;
if (!at || at === document.body) { return null; }
const box = at.getBoundingClientRect(), style = getComputedStyle(at);
return {tag: at.tagName, name: at.name || '', href: at.getAttribute('href') || '', text: (at.innerText || at.value || '').slice(0, 60),
        seen: box.width > 0 && box.height > 0 && box.bottom > 0 && box.top < innerHeight,
        ringed: style.outlineStyle !== 'none' && parseFloat(style.outlineWidth) >= 2};
"""


def step_to(page, checks, fits, what, most=120):
    """Tabs until something has the focus; everything passed on the way is looked at."""
    for _ in range(most):
        ActionChains(page.driver).send_keys(Keys.TAB).perform()
        at = page.driver.execute_script(FOCUSED)
        if at is None:
            continue
        checks.that(at["seen"], f"the focus is on {at} and is not seen")
        checks.that(at["ringed"], f"the focus on {at} has no ring")
        if fits(at):
            return at
    raise AssertionError(f"{most} steps of the tabulator do not reach {what} on {page.driver.current_url}")


def press(page, key=Keys.ENTER):
    page.leave(lambda: ActionChains(page.driver).send_keys(key).perform())


def test(given, checks):
    address, slug = given["address"], given["slug"]
    with Browser(LAPTOP) as page:
        page.go(address + "/")
        step_to(page, checks, lambda at: at["href"] == f"/jobs/{slug}", "the job")
        press(page)
        step_to(page, checks, lambda at: at["href"] == "#sheet", "the way past the head", 4)
        ActionChains(page.driver).send_keys(Keys.ENTER).perform()
        page.go(page.driver.current_url.split("#")[0])
        step_to(page, checks, lambda at: at["href"].endswith("/survey"), "the survey")
        press(page)
        step_to(page, checks, lambda at: "/form/walls." in at["href"], "a wall")
        press(page)
        step_to(page, checks, lambda at: at["name"].endswith(".length_m"), "the length")
        new = longer(page.one(LENGTH), 0.05)
        ActionChains(page.driver).key_down(Keys.CONTROL).send_keys("a").key_up(Keys.CONTROL).send_keys(new).perform()
        press(page)
        page.go(page.driver.current_url)
        kept = page.one(LENGTH).get_attribute("value")
        checks.that(kept == new, f"the length typed with the keyboard alone is {kept}, not {new}")
        page.picture(given["pictures"], "keyboard-kept")


run(test)
