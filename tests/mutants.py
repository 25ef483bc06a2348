#!/usr/bin/env python3
"""Changes one operator, constant or statement of read, model or compute at a time and looks whether
the unit tests notice.

    tests/mutants.py [--count N] [--seed S] [--at FILE:LINE] [--least PERCENT] [--minutes M]

The same seed chooses the same mutants, of what has not changed.  Works in a copy below out/mutants,
which is built once; then one object is compiled for each mutant and linked into the library that all
tests share.
A mutant is tried with the unit tests that name a function or the header of its file, those first that
tell most in the least time, with all tests that take less than a second, with the expected messages
(golden.sh) and with a few of whole recipes, a minute in all, until one fails; one that takes five
times its usual time has noticed, too.  What outlives that is tried by the nearest tests once more under
the sanitizers, as make san would.  What comes to the same program is not counted.
"""
import argparse
import filecmp
import glob
import hashlib
import json
import os
import re
import resource
import shutil
import subprocess
import sys
import time

ROOMS = ("read", "model", "compute")
TOP = os.path.dirname(os.path.dirname(os.path.abspath(__file__)))
HOME = os.path.join(TOP, "out", "mutants")
COPY = os.path.join(HOME, "copy")
# In the copy: built for speed, and with every access to memory watched.
PLAIN, WATCHED = "out/mutants", "out/watched"
FLAGS = {PLAIN: "-O1", WATCHED: "-O1 -fsanitize=address,undefined -fno-sanitize-recover=all -DARENA_WATCHED"}
MOST_MEMORY = 4 << 30
# Of the processor, of all the tests that a mutant has to outlive, by what they take without the watch.
MOST_SECONDS = {PLAIN: 60, WATCHED: 10}
GOLDEN = "golden.sh"  # besides the unit tests: what the command says of its recipes
BROAD = ["test_report", "test_order", "test_facts", "test_route", "test_run", "test_plan"]
WHOLLY_LINKED = ["test_generated"]  # takes a function's place, which it cannot do in a library
# Pairs that are each other's mutants; the longer operators first.
SWAPS = [
    (r"<=", ["<", ">"]), (r">=", [">", "<"]), (r"==", ["!="]), (r"!=", ["=="]),
    (r"&&", ["||"]), (r"\|\|", ["&&"]), (r"\+=", ["-="]), (r"-=", ["+="]),
    (r"(?<![<\-])(?<=[\w)\] ])<(?= )", ["<=", ">="]), (r"(?<![->])(?<= )>(?= )", [">=", "<="]),
    (r"(?<=[\w)\]] )\+(?= )", ["-"]), (r"(?<=[\w)\]] )-(?= )", ["+"]),
    (r"(?<=[\w)\]] )\*(?= )", ["/"]), (r"(?<=[\w)\]] )/(?= )", ["*"]),
    (r"\bfmin\b", ["fmax"]), (r"\bfmax\b", ["fmin"]), (r"\btrue\b", ["false"]), (r"\bfalse\b", ["true"]),
    (r"(?<![\w.])(?:\d+\.\d+|\d+)(?:e-?\d+)?(?![\w.])", ["{n}"]),
]
MORE_ROOM = re.compile(r"\bNEW\([^()]*, ([^()]* \+ )?$")  # asking for more than is needed changes nothing
STATEMENT = re.compile(r"^\s+(?!return\b|break\b|case\b|default\b|const\b|struct\b|static\b|enum\b|else\b)"
                       r"(?:[\w>\-.\[\]*+()]+ (?:=|\+=|-=|\|=) .+|[a-z]\w*\(.*\)|\w[\w>\-.\[\]]*(?:\+\+|--));\s*$")


def bare(lines):
    """Text outside of comments, strings and preprocessor lines, with its columns kept."""
    text = "\n".join(lines)
    blank = lambda m: re.sub(r"[^\n]", " ", m.group())
    text = re.sub(r'/\*.*?\*/|//[^\n]*|"(?:\\.|[^"\\\n])*"|\'(?:\\.|[^\'\\\n])*\'', blank, text, flags=re.S)
    text = re.sub(r"^#(?:[^\n]*\\\n)*[^\n]*", blank, text, flags=re.M)
    return text.split("\n")


def functions(code):
    """The lines within functions: tables and declarations are left alone."""
    inside = False
    for number, line in enumerate(code):
        if re.match(r"[a-z].*[{]\s*$", line) and "(" in line or line == "{":
            inside = True
        elif re.match(r"\s+.*\)\s*\{\s*$", line) and number and not inside and not code[number - 1].startswith(" "):
            inside = True
        elif line.startswith("}"):
            inside = False
        elif inside:
            yield number


def changed(number):
    """A constant that is near the given one, and not it."""
    if re.fullmatch(r"\d+", number):
        return str(int(number) + 1)
    return "(%s * 1.5)" % number


def mutants_of(path):
    """All mutants of a file: (line from 0, what the line becomes, what was done)."""
    with open(os.path.join(TOP, path)) as file:
        lines = file.read().split("\n")
    code = bare(lines)
    for at in functions(code):
        taken = set()
        for pattern, others in SWAPS:
            for match in re.finditer(pattern, code[at]):
                span = set(range(*match.span()))
                if taken & span:
                    continue
                taken |= span
                if MORE_ROOM.search(code[at][:match.start()]):
                    continue
                for other in others:
                    new = changed(match.group()) if other == "{n}" else other
                    yield at, lines[at][:match.start()] + new + lines[at][match.end():], \
                        "%s > %s" % (match.group(), new)
        if STATEMENT.match(code[at]) and code[at - 1].rstrip().endswith((";", "{", "}")):
            yield at, ";", "statement left out"


def run(command, seconds=None, built=PLAIN):
    """Exit status; not 0 where it takes more than so many seconds of the processor."""
    def bounded():
        if built == PLAIN:  # the watch reserves a large part of all addresses
            resource.setrlimit(resource.RLIMIT_AS, (MOST_MEMORY, MOST_MEMORY))
        resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
        if seconds:
            resource.setrlimit(resource.RLIMIT_CPU, (seconds, seconds))
    return subprocess.run(command, cwd=COPY, stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL,
                          stderr=subprocess.DEVNULL, preexec_fn=bounded,
                          env=dict(os.environ, PLUGWRIGHT=built + "/plugwright"), check=False).returncode


def make(built, *targets):
    """Targets are paths below the folder that is built."""
    return run(["make", "-s", "-j2", "VARIANT=mutants", "B=" + built, "CFLAGS=" + FLAGS[built],
                "CC=" + os.environ.get("CC", "cc"), *[built + "/" + target for target in targets]], built=WATCHED)


def files_below(folder):
    """Paths of all files, relative to the folder."""
    return {os.path.relpath(os.path.join(where, name), folder)
            for where, _, names in os.walk(folder) for name in names}


def renew_copy():
    """The source as it is now; what did not change keeps its time, so that little is built anew."""
    os.makedirs(COPY, exist_ok=True)
    shutil.copy(os.path.join(TOP, "Makefile"), COPY)
    for room in ("src", "grammar", "tests", "recipes", "docs"):
        here, there = os.path.join(TOP, room), os.path.join(COPY, room)
        names = files_below(here)
        for name in files_below(there) - names:
            os.remove(os.path.join(there, name))
        for name in names:
            old = os.path.join(there, name)
            if os.path.exists(old) and filecmp.cmp(os.path.join(here, name), old, shallow=False):
                continue
            os.makedirs(os.path.dirname(old), exist_ok=True)
            shutil.copy(os.path.join(here, name), old)


def tests_there():
    return sorted(os.path.basename(path)[:-2] for path in glob.glob(os.path.join(COPY, "tests", "test_*.c")))


def command_of(test, built=PLAIN):
    return ["bash", "tests/" + test] if test == GOLDEN else [built + "/tests/" + test]


def build_everything():
    """Tests find the library where it lies, so that they need not be linked again for a mutant."""
    for built in FLAGS:
        if make(built, "plugwright", *["tests/" + test for test in tests_there() if test not in WHOLLY_LINKED]):
            sys.exit("the program or its tests cannot be built")


def usual_seconds(test):
    """Of the processor, without any mutant; measured once for each test."""
    kept = os.path.join(HOME, "seconds.json")
    known = json.loads(text_of(kept)) if os.path.exists(kept) else {}
    if test not in known:
        before = resource.getrusage(resource.RUSAGE_CHILDREN)
        if run(command_of(test)):
            sys.exit(test + " fails without any mutant")
        after = resource.getrusage(resource.RUSAGE_CHILDREN)
        known[test] = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
        with open(kept, "w") as file:
            json.dump(known, file)
    return known[test]


def text_of(*parts):
    with open(os.path.join(*parts)) as file:
        return file.read()


def header_of(path):
    return path[len("src/"):-2] + ".h"


def points_of(path, texts):
    """How much each test has to do with a file: it bears its name or that of its room, takes in its
    header, or names a function of it."""
    header = header_of(path)
    told = text_of(COPY, path)
    if os.path.exists(os.path.join(COPY, "src", header)):
        told = text_of(COPY, "src", header)
    names = set(re.findall(r"^[a-z][\w \*]*?\*?(\w+)\(", told, flags=re.M))
    room, stem = path[:-2].split("/")[-2:]
    return {test: 4 * (test == "test_" + stem) + (test.startswith("test_" + room)) + 2 * ('"%s"' % header in text) +
            len(names & set(re.findall(r"\w+", text))) for test, text in texts.items()}


def users_of(path):
    """Files that take in this one's header."""
    line = '#include "%s"' % header_of(path)
    every = glob.glob(os.path.join(COPY, "src/**/*.c"), recursive=True)
    return [os.path.relpath(p, COPY) for p in every if line in text_of(p)]


def concerned(path, texts):
    """The tests that have to do with a file, and with those that use it, first what tells most in the
    least time; then whatever else is quick, and what speaks of whole recipes."""
    points = points_of(path, texts)
    for user in users_of(path):
        for test, more in points_of(user, texts).items():
            points[test] += 0.1 * more
    near = sorted((t for t in points if points[t]), key=lambda t: -points[t] / (0.2 + usual_seconds(t)))
    quick = sorted((t for t in texts if usual_seconds(t) < 1), key=usual_seconds)
    return list(dict.fromkeys(near + quick + [GOLDEN] + BROAD))


def within(seconds, tests):
    """Of tests in this order, those that usually take no more together; a long one is passed over."""
    kept = []
    for test in tests:
        if usual_seconds(test) <= seconds:
            kept.append(test)
            seconds -= usual_seconds(test)
    return kept


def object_of(path):
    return path[:-2] + ".o"


def bytes_of(path, built):
    with open(os.path.join(COPY, built, object_of(path)), "rb") as file:
        return file.read()


def noticed(tests, built):
    """The test that fails, '' where none does, None where it cannot be built."""
    if make(built, "parts.so"):
        return None
    for test in within(MOST_SECONDS[built], tests):
        if test == GOLDEN and make(built, "plugwright"):
            return None
        slower = 5 if built == PLAIN else 25
        if run(command_of(test, built), 3 + int(slower * usual_seconds(test)), built):
            return test
    return ""


def verdict(path, mutant, texts):
    """'killed' with the test, 'survived', 'unbuilt' or 'same'."""
    at, line, _ = mutant
    tests = concerned(path, texts)
    target = os.path.join(COPY, path)
    whole = text_of(target)
    make(PLAIN, object_of(path))
    before = bytes_of(path, PLAIN)
    lines = whole.split("\n")
    lines[at] = line
    try:
        with open(target, "w") as file:
            file.write("\n".join(lines))
        if make(PLAIN, object_of(path)):
            return "unbuilt", ""
        if bytes_of(path, PLAIN) == before:  # the compiler made of it what it made before
            return "same", ""
        for built in FLAGS:
            test = noticed(tests, built)
            if test is None:
                return "unbuilt", ""
            if test:
                return "killed", test + (", watched" if built == WATCHED else "")
        return "survived", ""
    finally:
        with open(target, "w") as file:
            file.write(whole)


def chosen(options):
    """All mutants in an order by chance that hangs on each one's own text: what changes elsewhere leaves
    it as it is."""
    files = sorted(p for room in ROOMS for p in glob.glob(os.path.join("src", room, "**/*.c"), root_dir=TOP,
                                                          recursive=True))
    every = [(path, mutant) for path in files for mutant in mutants_of(path)]
    if options.at:
        every = [(p, m) for p, m in every
                 if any(("%s:%d:" % (p, m[0] + 1)).find("/" + at + ":") >= 0 for at in options.at)]

    def lot(pair):
        path, (_, line, what) = pair
        return hashlib.sha256("\n".join([str(options.seed), path, line, what]).encode()).digest()
    return sorted(every, key=lot)


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("--count", type=int, default=10)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--at", action="append", help="FILE or FILE:LINE, as often as wanted")
    parser.add_argument("--minutes", type=float, default=240, help="no mutant is begun after that")
    parser.add_argument("--least", type=float, default=0, help="fails below this share of killed ones")
    options = parser.parse_args()
    os.nice(10)
    renew_copy()
    build_everything()
    texts = {test: text_of(COPY, "tests", test + ".c") for test in tests_there() if test not in WHOLLY_LINKED}
    end = time.monotonic() + 60 * options.minutes
    tally = {"killed": 0, "survived": 0}
    for path, mutant in chosen(options):
        if sum(tally.values()) == options.count or time.monotonic() > end:
            break
        word, test = verdict(path, mutant, texts)
        if word not in tally:
            continue
        tally[word] += 1
        print("%-8s %s:%d: %s %s" % (word, path, mutant[0] + 1, mutant[2], test and "(%s)" % test), flush=True)
    tried = sum(tally.values())
    share = 100 * tally["killed"] / tried if tried else 100
    print("mutants: %d tried, %d killed, %.1f %%" % (tried, tally["killed"], share))
    return share < options.least


if __name__ == "__main__":
    sys.exit(main())
