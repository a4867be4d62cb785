"""Signing in and what each role reaches: the gang sees no price on any page, in the plan or in a download; the surveyor no accounts and no backups;
nobody anything without a session; a wrong password is told from a wrong name by nobody."""

import json
import re
import ssl
import urllib.error
import urllib.request
from urllib.parse import urlparse

from common import PHONE, Browser, run, sort_of, walk

PRICED = ["", "/survey", "/file", "/job.toml", "/history", "/price", "/why", "/why/price.total", "/order", "/form/rates", "/plans/1/proposal.pdf",
          "/plans/1/plan.json", "/plans/1/order.csv", "/compare?from=1&to=1", "/files/weather.csv"]
PRICED_API = ["", "/plans", "/plans/1", "/plans/1/files/proposal.pdf", "/why", "/why?path=price.total", "/history", "/changes?from=1&to=1"]
MONEY = re.compile(r"[£€$]|\bGBP\b|\bEUR\b")


def sign_in(page, address, name, password):
    page.go(address + "/sign-in")
    page.fill("#name", name)
    page.fill("#password", password)
    page.press("form.sign-in button")


def ask(address, path, cookie=None, method="GET", body=None, headers=None):
    """Status and text of an answer, without following it elsewhere."""
    trusting = ssl.create_default_context()
    trusting.check_hostname, trusting.verify_mode = False, ssl.CERT_NONE

    class Still(urllib.request.HTTPRedirectHandler):
        def redirect_request(self, *_):
            return None

    opener = urllib.request.build_opener(Still, urllib.request.HTTPSHandler(context=trusting))
    request = urllib.request.Request(address + path, method=method, data=body, headers=headers or {})
    if cookie:
        request.add_header("Cookie", cookie)
    try:
        with opener.open(request) as answer:
            return answer.status, answer.read().decode("utf-8", "replace"), answer.headers
    except urllib.error.HTTPError as error:
        return error.code, error.read().decode("utf-8", "replace"), error.headers


def session_of(page):
    cookies = page.driver.get_cookies()
    return cookies, "; ".join(f"{cookie['name']}={cookie['value']}" for cookie in cookies)


def test(given, checks):
    address, slug, people = given["address"], given["slug"], given["people"]
    own = {"Origin": address}

    for path in ["/", f"/jobs/{slug}", f"/jobs/{slug}/site.html", "/backup", "/site"]:
        status, text, headers = ask(address, path, headers={"Accept": "text/html"})
        checks.that(status in (302, 303, 307) and headers["Location"].startswith("/sign-in"), f"{path} without a session answers {status}")
    for path in ["/api/jobs", f"/api/jobs/{slug}/plan", "/api/openapi.json"]:
        status, text, _ = ask(address, path)
        checks.that(status == 401 and "application/problem" in str(_["Content-Type"]), f"{path} without a session answers {status}")
    status, _, _ = ask(address, f"/jobs/{slug}/log", method="POST", body=b"entries=", headers=own)
    checks.that(status == 401, f"a log without a session answers {status}")

    with Browser(PHONE) as page:
        sign_in(page, address, "nobody", "a password that is long")
        nobody = page.one("[role=alert]").text
        sign_in(page, address, "gang", "a password that is long")
        checks.that(page.one("[role=alert]").text == nobody, "a wrong name and a wrong password are told apart")
        for found in page.axe():
            checks.that(False, f"the sign-in page: {found}")
        page.picture(given["pictures"], "sign-in-360")

        sign_in(page, address, "gang", people["gang"])
        checks.that(page.at() == "/site", f"the gang begins at {page.at()}")
        cookies, gang = session_of(page)
        checks.that(len(cookies) == 1 and cookies[0]["name"] == "__Host-harlwright", f"cookies: {[c['name'] for c in cookies]}")
        checks.that(cookies[0]["httpOnly"] and cookies[0]["secure"] and cookies[0]["sameSite"] == "Lax", f"the cookie is {cookies[0]}")

        sorts = set()

        def visit(at):
            sorts.add(sort_of(at))
            source = re.sub(r"<script.*?</script>", "", page.driver.page_source, flags=re.DOTALL)
            checks.that(not MONEY.search(source), f"the gang sees money at {urlparse(at).path}")
            checks.that("not yours" not in page.words(), f"{urlparse(at).path} is linked for the gang and refused")
            for found in page.axe():
                checks.that(False, f"{urlparse(at).path} for the gang: {found}")
            page.picture(given["pictures"], "gang" + urlparse(at).path.replace("/", "-"))

        seen = walk(page, address, ["/site"], visit, 40, lambda at: sort_of(at) not in sorts)
        checks.that(len(seen) >= 4, f"the gang finds only {sorted(seen)}")
        page.go(f"{address}/jobs/{slug}/price")
        checks.that("not yours" in page.words(), "a page that is not the gang's does not say so")
        page.picture(given["pictures"], "not-yours-360")

    status, text, _ = ask(address, f"/jobs/{slug}/site.html", gang)
    sheet = re.sub(r"<script.*?</script>", "", text, flags=re.DOTALL)
    checks.that(status == 200 and "Week of" in sheet and not MONEY.search(sheet), f"the sheet answers the gang {status} or holds money")
    for path in PRICED:
        status, text, _ = ask(address, f"/jobs/{slug}{path}", gang, headers={"Accept": "text/html"})
        checks.that(status == 403 and not MONEY.search(text), f"/jobs/{slug}{path} answers the gang {status}")
    for path in PRICED_API:
        status, text, _ = ask(address, f"/api/jobs/{slug}{path}", gang)
        checks.that(status == 403 and not MONEY.search(text), f"/api/jobs/{slug}{path} answers the gang {status}")
    for path in ["/api/jobs", f"/api/jobs/{slug}/plan", f"/api/jobs/{slug}/log"]:
        status, text, _ = ask(address, path, gang)
        checks.that(status == 200 and not MONEY.search(text), f"{path} answers the gang {status} or holds money")
    status, text, _ = ask(address, f"/api/jobs/{slug}/plan", gang)
    plan = json.loads(text)
    checks.that("price" not in plan and plan["without_prices"] and plan["programme"]["runs"], "the gang's plan is not the plan without prices")
    entry = json.dumps({"format": "site-log/1", "entries": [{"id": "gang-00000001", "at": "2027-05-11T08:30:00Z", "who": "gang", "kind": "damped"}]})
    status, _, _ = ask(address, f"/api/jobs/{slug}/log", gang, "POST", entry.encode(), own | {"Content-Type": "application/json"})
    checks.that(status == 200, f"the gang's log is answered {status}")
    status, _, _ = ask(address, f"/api/jobs/{slug}/log", gang, "POST", entry.encode(), {"Origin": "https://evil.example", "Content-Type": "application/json"})
    checks.that(status == 403, f"a log from another site is answered {status}")
    status, _, _ = ask(address, f"/api/jobs/{slug}", gang, "PUT", b"{}", own | {"Content-Type": "application/json", "If-Match": '"v1"'})
    checks.that(status == 403, f"the gang changes a job: {status}")

    with Browser(PHONE) as page:
        sign_in(page, address, "surveyor", people["surveyor"])
        checks.that(page.at() == "/", f"the surveyor begins at {page.at()}")
        _, surveyor = session_of(page)
        for path in ["/backup", "/backup/book", "/restore"]:
            checks.that(ask(address, path, surveyor, headers={"Accept": "text/html"})[0] == 403, f"{path} is the surveyor's")
        checks.that(ask(address, f"/jobs/{slug}/history", surveyor)[0] == 200, "the surveyor does not see the history")
        sign_out = ask(address, "/sign-out", surveyor, "POST", b"", own)
        checks.that(sign_out[0] == 303 and ask(address, f"/jobs/{slug}", surveyor)[0] == 401, "a session goes on after signing out")

    last = None
    for _ in range(12):
        last = ask(address, "/sign-in", None, "POST", b"name=owner&password=wrong+wrong+wrong+wrong", own | {"Content-Type": "application/x-www-form-urlencoded"})
    checks.that(last[0] == 429 and int(last[2]["Retry-After"]) > 0, f"the twelfth wrong password in a row is answered {last[0]}")


run(test)
