"""How long it takes from a save to the renewed page.

usage: bench_watch.py PROGRAM RECIPE...    recipes whose body has a length in mm
Prints the middle and the longest of so many saves, each of another length.
"""
import os
import re
import shutil
import signal
import subprocess
import sys
import tempfile
import time

SAVES = 20


def measure(program, text):
    """Milliseconds of each save."""
    length = float(re.search(r"length: ([\d.]+) mm", text)[1])
    watch = subprocess.Popen([program, "watch", "plug.yaml"], stdout=subprocess.PIPE,
                             stderr=subprocess.DEVNULL, text=True)
    watch.stdout.readline()
    took = []
    for i in range(SAVES):
        state = open("out/plug/view.js").read()
        with open("new.yaml", "w") as file:
            file.write(re.sub(r"length: [\d.]+ mm", f"length: {length + (i + 1) / 20} mm", text, count=1))
        start = time.perf_counter()
        os.rename("new.yaml", "plug.yaml")
        while open("out/plug/view.js").read() == state:
            if time.perf_counter() - start > 10:
                sys.exit("a save was not followed")
            time.sleep(0.0005)
        took.append((time.perf_counter() - start) * 1e3)
        time.sleep(0.2)
    watch.send_signal(signal.SIGTERM)
    watch.wait()
    return sorted(took)


def main(program, recipes):
    program = os.path.abspath(program)
    for recipe in recipes:
        with open(recipe) as file:
            text = file.read()
        here = os.getcwd()
        workshop = os.path.abspath(os.path.join(os.path.dirname(recipe), "workshop.yaml"))
        with tempfile.TemporaryDirectory() as folder:
            os.chdir(folder)
            with open("plug.yaml", "w") as file:
                file.write(text)
            shutil.copy(workshop, "workshop.yaml")  # which some of them name
            took = measure(program, text)
            os.chdir(here)
        print(f"{recipe}\n  from a save to the page       {took[SAVES // 2]:8.1f} ms, at most {took[-1]:.1f} ms")


main(sys.argv[1], sys.argv[2:])
