"""Drives the living page in a browser, over the W3C WebDriver protocol.

usage: watch.py FOLDER PROGRAM    in FOLDER: grebe.yaml; hostile pages lie in FOLDER/pages.
Prints a line for each sentence, "+ it is so" or "- it is not so (what was found)".
"""
import re
import signal
import subprocess
import sys
import time

from tablet import Browser, it


def until(b, script, seconds=5):
    """What the script returns once that is true, or the last of it."""
    end = time.monotonic() + seconds
    while True:
        found = b.run(script)
        if found or time.monotonic() > end:
            return found
        time.sleep(0.05)


def save(path, change):
    with open(path) as file:
        text = file.read()
    with open(path, "w") as file:
        file.write(change(text))


def longer(millimetres):
    return lambda text: re.sub(r"length: \S+ m?m?g?\n", f"length: {millimetres}\n", text, count=1)


TOP = "return document.getElementById('floating').getBoundingClientRect().top"
ENDED = "const e = document.getElementById('watched'); return !e.hidden && e.textContent"


def renews_itself(b, recipe):
    it("the page is there before it is touched", b.run("return document.querySelectorAll('ins').length") == 0)
    it("all drawings are shown", b.run("return Array.from(document.images).every(i => i.complete && i.naturalWidth)"))
    b.run("document.getElementById('sheets').open = true; document.getElementById('floating').scrollIntoView()")
    before = b.run(TOP)
    save(recipe, longer("97 mm"))
    it("a save shows by itself", until(b, "return document.body.textContent.includes('95 mm → 97 mm')"))
    time.sleep(0.5)
    after = b.run(TOP)
    it("what was in sight stays in sight", abs(after - before) < 2, (before, after))
    it("what was opened stays open", b.run("return document.getElementById('sheets').open"))
    colour = "return ['ins', 'del'].map(tag => getComputedStyle(document.querySelector('#floating ' + tag)).color)"
    it("what reads otherwise has colours of its own", len(set(b.run(colour) + ["rgb(17, 17, 17)"])) == 3, b.run(colour))
    save(recipe, longer("97 g"))
    it("an error shows by itself", until(b, "return document.querySelector('#diagnostics .error')?.textContent.includes('a length is due')"))
    it("its place is marked", b.run("return document.querySelector('mark').textContent") == "97 g")
    it("what is past is told apart", float(b.run("return getComputedStyle(document.getElementById('good')).opacity")) < 1)
    save(recipe, longer("96 mm"))
    it("so does its mending", until(b, "return !document.querySelector('.error')"))


def stays_still(b):
    b.run("window.same = true")
    time.sleep(1)
    it("without a save nothing is loaded anew", b.run("return window.same === true"))
    wide = [width for width in (320, 768, 1280)
            if b.width(width) or b.run("return document.documentElement.scrollWidth") > width]
    it("the page does not scroll sideways", not wide, wide)
    b.run("return document.querySelectorAll('script[src]').length <= 1")


def hostile(b, folder):
    for name in "hostile", "wrong":
        b.open(f"{folder}/pages/{name}/view.html")
        it(f"no text of the {name} recipe becomes markup",
           b.run("return window.hurt === undefined && !document.querySelector('h1 b, img[src=x], article i')"))
        it(f"it is there to read on the {name} page", "<script>window.hurt=1" in b.run("return document.body.textContent"))
    b.run("const s = document.createElement('script'); s.textContent = 'window.hurt = 3'; document.body.append(s)")
    it("a script that is not the page's does not run", b.run("return window.hurt === undefined"))


def main(folder, program):
    recipe = folder + "/grebe.yaml"
    watch = subprocess.Popen([program, "watch", recipe], stdout=subprocess.PIPE, stderr=subprocess.DEVNULL,
                             text=True, cwd=folder)
    try:
        watch.stdout.readline()
        b = Browser(folder)
        try:
            b.width(1280)
            b.open(folder + "/out/grebe/view.html")
            renews_itself(b, recipe)
            stays_still(b)
            complaints = b.said()
            it("the browser has nothing to complain about", not complaints, complaints)
            watch.send_signal(signal.SIGINT)
            it("an interrupt ends it with 0", watch.wait(10) == 0, watch.returncode)
            it("the page says that it is not watched any more", until(b, ENDED))
            hostile(b, folder)
            it("all of it was tried", True)
        finally:
            b.close()
    finally:
        if watch.poll() is None:
            watch.kill()


if __name__ == "__main__":
    main(*sys.argv[1:])
