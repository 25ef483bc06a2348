"""Drives the tablet's page in a browser, over the W3C WebDriver protocol.

usage: tablet.py FOLDER PAGE...    in FOLDER: first.html, second.html (two versions of one recipe,
the first at FOLDER/order.html to begin with), hostile.html; PAGEs are orders of all sorts.
Prints a line for each sentence, "+ it is so" or "- it is not so (what was found)".
"""
import json
import os
import re
import shutil
import subprocess
import sys
import tempfile
import time
import urllib.error
import urllib.request

TOUCH = 44  # CSS px, of a wet finger
WIDTHS = 320, 768, 1280


class Browser:
    def __init__(self, folder):
        self.driver = subprocess.Popen(["chromedriver", "--port=0"], stdout=subprocess.PIPE,
                                       stderr=subprocess.DEVNULL, text=True, cwd=folder,
                                       env={**os.environ, "HOME": folder, "TMPDIR": folder})
        try:
            self.begin(folder)
        except BaseException:
            self.driver.kill()
            raise

    def begin(self, folder):
        port = next(m[1] for m in (re.search(r"success.* on port (\d+)", line) for line in self.driver.stdout) if m)
        self.base = f"http://127.0.0.1:{port}/session"
        arguments = ["--headless=new", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage",
                     f"--user-data-dir={folder}/profile"]
        reply = self.ask("POST", "", {"capabilities": {"alwaysMatch": {
            "goog:chromeOptions": {"args": arguments}, "goog:loggingPrefs": {"browser": "ALL"}}}})
        self.base += "/" + reply["sessionId"]
        self.width(WIDTHS[0])

    def ask(self, method, path, body=None):
        data = None if body is None else json.dumps(body).encode()
        request = urllib.request.Request(self.base + path, data, {"Content-Type": "application/json"},
                                         method=method)
        opener = urllib.request.build_opener(urllib.request.ProxyHandler({}))
        try:
            with opener.open(request, timeout=60) as reply:
                return json.load(reply)["value"]
        except urllib.error.HTTPError as error:
            sys.exit(f"{path} {str(body)[:200]}: {error.read().decode()[:400]}")

    def command(self, name, **values):
        return self.ask("POST", "/goog/cdp/execute", {"cmd": name, "params": values})

    def width(self, pixels):
        self.command("Emulation.setDeviceMetricsOverride", width=pixels, height=900,
                     deviceScaleFactor=1, mobile=pixels < 1000)

    def open(self, path):
        self.ask("POST", "/url", {"url": "file://" + os.path.abspath(path)})

    def reload(self):
        self.ask("POST", "/refresh", {})

    def run(self, script, *values):
        return self.ask("POST", "/execute/sync", {"script": script, "args": list(values)})

    def tap(self, css):
        """As a finger does: the element is scrolled to and hit in its middle."""
        found = self.ask("POST", "/element", {"using": "css selector", "value": css})
        self.run("arguments[0].scrollIntoView({block: 'center'})", found)
        self.ask("POST", f"/element/{next(iter(found.values()))}/click", {})

    def type(self, css, text):
        found = self.ask("POST", "/element", {"using": "css selector", "value": css})
        self.ask("POST", f"/element/{next(iter(found.values()))}/value", {"text": text})

    def said(self):
        """What the console has said since the last time."""
        return [entry["message"] for entry in self.ask("POST", "/se/log", {"type": "browser"})]

    def close(self):
        try:
            self.ask("DELETE", "")
        finally:
            self.driver.terminate()
            self.driver.wait()


def it(sentence, so, found=""):
    print(("+ " if so else "- ") + sentence + ("" if so else f" ({found})"), flush=True)


STEP = "#steps input[aria-label='step {} done']"
PLAN = "#plan input[aria-label='step {} done']"
checked = "return document.querySelector(arguments[0]).checked"
text = "const e = document.querySelector(arguments[0]); return e && !e.hidden ? e.textContent : ''"
DATA = "const run = JSON.parse(document.getElementById('run').textContent);"


def clock_of(step):
    """The line that counts a step's wait down."""
    return ("const box = document.querySelector(\"" + STEP.format(step) + "\");"
            "const line = box.closest('section').querySelector('.wait');"
            "return line && !line.hidden ? line.textContent : ''")


def ticks_are_kept(b, folder):
    page = folder + "/order.html"
    b.open(page)
    it("nothing is ticked at first", b.run("return document.querySelectorAll(':checked').length - "
                                           "document.querySelectorAll('option:checked').length") == 0)
    first = b.run(text, "nav .next strong")
    it("the first step is shown as the next one", first.startswith("Next: 1. "), first)
    b.tap(STEP.format(1))
    it("a step that is ticked is ticked in the plan", b.run(checked, PLAN.format(1)))
    moved = b.run(text, "nav .next strong")
    it("then the next one is shown", moved.startswith("Next: ") and moved != first, moved)
    b.tap(PLAN.format(3))
    it("a tick in the plan is one at the step", b.run(checked, STEP.format(3)))
    moved = b.run(text, "nav .next strong")
    b.type("input[type=text]", "9.8 g")
    b.tap("#cut-list-and-materials input")
    b.reload()
    it("ticks are there after the page is read anew",
       b.run(checked, STEP.format(1)) and b.run(checked, PLAN.format(3)))
    it("so are readings", b.run("return document.querySelector('input[type=text]').value") == "9.8 g")
    it("so are other boxes", b.run(checked, "#cut-list-and-materials input"))
    it("the next step is still the next", b.run(text, "nav .next strong") == moved)
    counter = b.run(text, "nav .count")
    it("the steps that are done are counted", counter.startswith("2 of "), counter)
    b.tap(STEP.format(3))
    it("a tick that is taken away goes in the plan as well", not b.run(checked, PLAN.format(3)))
    b.tap(STEP.format(3))


def parts_and_sittings(b):
    split = b.run(DATA + "return run.steps.map(s => run.pieces.filter(p => p.step === s.number))"
                  ".find(pieces => pieces.length > 1).map(p => [p.step, p.first, p.last])")
    step, parts = split[0][0], [f"#plan input[aria-label^='step {s}, plug'][aria-label*='{a}']" for s, a, _ in split]
    b.tap(parts[0])
    it("a step with a part left is not done", not b.run(checked, STEP.format(step)))
    it("and shows that it is begun", b.run("return document.querySelector(arguments[0]).indeterminate", STEP.format(step)))
    for part in parts[1:]:
        b.tap(part)
    it("it is done with its last part", b.run(checked, STEP.format(step)))
    b.tap(STEP.format(step))
    it("taking its tick away takes all parts", not any(b.run(checked, part) for part in parts))
    sitting = "#plan h3 input"
    b.tap(sitting)
    it("a sitting that is ticked ticks its steps",
       b.run(DATA + "return run.pieces.filter(p => p.sitting === 0).every(p => "
             "document.querySelector(`#steps input[aria-label='step ${p.step} done']`).checked)"))


def the_card_is_one_with_the_plan(b):
    """The first sitting is ticked by now."""
    row = "#when tbody tr:first-child input"
    it("a sitting that is ticked is ticked on the card", b.run(checked, row))
    b.tap(row)
    it("a tick that the card takes away goes at the steps", not b.run(checked, STEP.format(1)))
    b.tap(row)
    it("and one that it makes is made there", b.run(checked, STEP.format(1)))
    b.type("#read-and-write-down tr:last-child td:last-child input", "9.6 g")
    b.reload()
    it("the card's empty cells can be written in", b.run("return document.querySelector('#read-and-write-down tr:last-child td:last-child input').value") == "9.6 g")


def next_step_leads(b):
    number = re.match(r"Next: (\d+)\. ", b.run(text, "nav .next strong"))[1]
    b.run("scrollTo(0, 1e6)")
    it("the bar stays in sight at the end of the page",
       b.run("return Math.abs(document.querySelector('nav').getBoundingClientRect().top) < 1"))
    b.run("document.querySelector('nav .next').click()")
    time.sleep(0.3)
    it("a tap on the next step brings you there, below the bar",
       b.run("const at = document.querySelector(arguments[0]).closest('section').getBoundingClientRect().top;"
             "const bar = document.querySelector('nav').offsetHeight; return at >= bar && at < bar + 60",
             STEP.format(number)))


def next_step_tells(b):
    """Amounts and cautions: all that stands before the first topcoat is ticked."""
    number, amount, cautions = b.run(DATA + "const s = run.steps.find(s => s.amount && s.cautions && s.after.length"
                                     " && /^Topcoat/.test(s.title)); return [s.number, s.amount, s.cautions]")
    b.run("document.querySelectorAll('#plan li input').forEach(box => { const n = /step (\\d+)/.exec("
          "box.getAttribute('aria-label'))[1]; if (Number(n) < arguments[0] && !box.checked) box.click(); })", number)
    it("the next step tells its amounts", amount in b.run(text, "nav .next"), amount)
    it("and its cautions", "Caution: " + cautions in b.run(text, "nav .next"), cautions)
    it("and what it waits for", "Not before " in b.run(text, "nav .when"), b.run(text, "nav .when"))


SHIFT = DATA + """
    const store = 'plugwright ' + run.digest, state = JSON.parse(localStorage.getItem(store));
    const step = run.steps.find(s => s.number === arguments[0]);
    run.pieces.filter(p => p.step === step.number).forEach(p => {
        state.pieces[p.key] = Date.now() - step.wait_s * 1000 + arguments[1] * 1000; });
    localStorage.setItem(store, JSON.stringify(state));"""


def waits(b):
    number = b.run(DATA + "return run.steps.find(s => s.wait_s > 3600 && s.wait_s < 86400 && s.work).number")
    if b.run(checked, STEP.format(number)):
        b.tap(STEP.format(number))
    it("nothing is counted before the tick", b.run(clock_of(number)) == "")
    b.tap(STEP.format(number))
    first = b.run(clock_of(number))
    it("the wait is counted down from the tick on",
       re.fullmatch(r"Leave it \d+:\d\d:\d\d more, until .*\d\d:\d\d", first), first)
    time.sleep(1.6)
    later = b.run(clock_of(number))
    it("it runs", later != first and later.startswith("Leave it "), later)
    it("its end stays", first.split("until")[1] == later.split("until")[-1], later)
    b.reload()
    again = b.run(clock_of(number))
    it("it runs on over a reload", again.startswith("Leave it ") and first.split("until")[1] == again.split("until")[-1], again)
    it("the bar counts too", f"Step {number} waits " in b.run(text, "nav .waits"), b.run(text, "nav .waits"))
    b.run(SHIFT, number, 2)
    b.reload()
    time.sleep(3)
    it("it says when it is over, without a reload", b.run(clock_of(number)).startswith("The wait is over since "),
       b.run(clock_of(number)))
    b.run(SHIFT, number, -60 * 60 * 24 * 30)
    b.reload()
    it("and a month later too", re.search(r"since \w+ \d+ \w+, \d\d:\d\d$", b.run(clock_of(number))), b.run(clock_of(number)))
    b.tap(STEP.format(number))
    it("without the tick there is no wait", b.run(clock_of(number)) == "")


def recoat(b):
    number, before = b.run(DATA + "const s = run.steps.find(s => s.after.some(a => a.within_s));"
                           "return [s.number, s.after.find(a => a.within_s).step]")
    b.run("document.querySelectorAll('#plan li input').forEach(box => { const n = /step (\\d+)/.exec("
          "box.getAttribute('aria-label'))[1]; if ((Number(n) < arguments[0]) !== box.checked) box.click(); })", number)
    it("a coat that must not come late says by when to begin", "Begin by " in b.run(text, "nav .when"), b.run(text, "nav .when"))
    b.run(SHIFT, before, -60 * 60 * 24 * 30)
    b.reload()
    it("and says so when it is too late", "Should have begun by " in b.run(text, "nav .when"), b.run(text, "nav .when"))


def versions(b, folder):
    page = folder + "/order.html"
    ticked = b.run("return document.querySelectorAll('#plan li :checked').length")
    shutil.copy(folder + "/second.html", page)
    b.open(page)
    it("another version of the recipe begins without ticks",
       ticked > 0 and b.run("return document.querySelectorAll('input:checked').length") == 0)
    it("and without readings", b.run("return document.querySelector('input[type=text]').value") == "")
    shutil.copy(folder + "/first.html", page)
    b.open(page)
    it("the first version has its own again", b.run("return document.querySelectorAll('#plan li :checked').length") == ticked)


def hostile(b, folder):
    b.open(folder + "/hostile.html")
    it("no text of a recipe becomes markup", b.run("return window.hurt === undefined && !document.querySelector('b, i, img[src=x]')"))
    it("it is there to read in the bar, the plan and the step",
       b.run("return ['nav', '#plan', '#steps'].every(at => document.querySelector(at).textContent.includes('</script><b>x'))"))


def private(b, folder):
    """A browser that keeps nothing."""
    script = b.command("Page.addScriptToEvaluateOnNewDocument", source="Object.defineProperty(window, 'localStorage',"
                       " {get() { throw new DOMException('no', 'SecurityError'); }})")
    b.open(folder + "/order.html")
    b.tap(STEP.format(1))
    it("where nothing can be kept ticks still work", b.run(checked, PLAN.format(1)))
    b.reload()
    it("and are gone with the page", not b.run(checked, STEP.format(1)))
    b.command("Page.removeScriptToEvaluateOnNewDocument", identifier=script["identifier"])
    b.open(folder + "/order.html")
    b.run(DATA + "localStorage.setItem('plugwright ' + run.digest, '{\"pieces\": 3, \"texts\": null')")
    b.reload()
    it("what can no longer be read is as nothing", not b.run(checked, STEP.format(1)))
    b.run(DATA + "localStorage.setItem('plugwright ' + run.digest, '{\"pieces\": 3, \"texts\": null}')")
    b.reload()
    b.tap(STEP.format(1))
    it("nor what another program has put there", b.run(checked, PLAN.format(1)))


SMALL = """
    return Array.from(document.querySelectorAll('input, button, select, a, summary')).filter(e => {
        const r = e.getBoundingClientRect();
        return r.width && r.height && Math.min(r.width, r.height) < arguments[0] - 0.01;
    }).map(e => e.outerHTML.slice(0, 80))"""

CROSSED = """
    const all = Array.from(document.querySelectorAll('input, main button, #plan button')).map(e => [e, e.getBoundingClientRect()]);
    const found = [];
    all.forEach(([e, r], i) => all.slice(i + 1).forEach(([f, s]) => {
        if (r.left < s.right - 0.5 && s.left < r.right - 0.5 && r.top < s.bottom - 0.5 && s.top < r.bottom - 0.5)
            found.push(e.closest('section').id + ': ' + e.outerHTML.slice(0, 60) + ' / ' + f.outerHTML.slice(0, 60));
    }));
    return found"""

TO_SCALE = """
    const drawn = Array.from(document.images).filter(i => /true size|scale \\d+:\\d+/.test(i.alt));
    return [drawn.length, drawn.filter(i => {
        const note = i.parentNode.nextElementSibling;
        return !note || !/^Not to scale on a screen/.test(note.textContent.trim());
    }).length]"""


def every_page(b, path):
    name = os.path.basename(os.path.dirname(path))
    b.open(path)
    b.run("localStorage.clear()")
    b.reload()
    for width in WIDTHS:
        b.width(width)
        wide = b.run("return document.documentElement.scrollWidth")
        it(f"{name} has no scroll sideways at {width} px", wide <= width, wide)
        small = b.run(SMALL, TOUCH)
        it(f"{name} is big enough for wet fingers at {width} px", not small, small[:3])
        crossed = b.run(CROSSED)
        it(f"no two fields of {name} overlap at {width} px", not crossed, crossed[:3])
        bar = b.run("return document.querySelector('nav').offsetHeight")
        it(f"the bar of {name} leaves room at {width} px", bar <= 320, bar)
    b.width(WIDTHS[0])
    drawn, bare = b.run(TO_SCALE)
    it(f"{name} says that drawings in true size are not so on a screen", drawn and not bare, (drawn, bare))
    b.run(DATA + "run.steps.forEach(s => { const box = document.querySelector("
          "`#steps input[aria-label='step ${s.number} done']`); if (box && !box.checked) box.click(); })")
    it(f"every step of {name} has a box, and all in the plan are the same",
       b.run("return Array.from(document.querySelectorAll('#plan input')).every(box => box.checked)"))
    it(f"{name} is done then", b.run(text, "nav .next strong") == "All steps are done" and
       b.run(DATA + "return document.querySelector('nav .count').textContent === "
             "`${run.steps.length} of ${run.steps.length} steps`"), b.run(text, "nav .count"))
    elsewhere = b.run("return performance.getEntriesByType('resource').map(e => e.name).filter(n => !n.startsWith('data:'))")
    it(f"{name} asks for nothing from elsewhere", not elsewhere, elsewhere)


def main():
    folder, pages = sys.argv[1], sys.argv[2:]
    with tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as home:
        b = Browser(home)
        try:
            ticks_are_kept(b, folder)
            parts_and_sittings(b)
            the_card_is_one_with_the_plan(b)
            next_step_leads(b)
            waits(b)
            next_step_tells(b)
            recoat(b)
            versions(b, folder)
            hostile(b, folder)
            private(b, folder)
            for page in pages:
                every_page(b, page)
            said = [line for line in b.said()]
            it("the browser has nothing to complain of", not said, said[:3])
        finally:
            b.close()
    it("all of it was tried", True)


if __name__ == "__main__":
    main()
