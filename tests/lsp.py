"""Talks to `plugwright lsp` as an editor does, through an outside implementation of JSON-RPC over
its framing (pylsp_jsonrpc), and prints a line for each thing tried: + SENTENCE, or - SENTENCE with
what came instead.  Usage: lsp.py PROGRAM FOLDER [BAD...], where FOLDER holds copies of the recipes, and
BAD recipes with faults."""
import json
import os
import random
import subprocess
import sys
import threading
import time

from pylsp_jsonrpc.endpoint import Endpoint
from pylsp_jsonrpc.exceptions import JsonRpcException
from pylsp_jsonrpc.streams import JsonRpcStreamReader, JsonRpcStreamWriter

PROGRAM, FOLDER = sys.argv[1], os.path.realpath(sys.argv[2])


def tried(sentence, fine, found=None):
    print(("+ " if fine else "- ") + sentence)
    if not fine:
        print("  found: " + repr(found)[:1500], file=sys.stderr)


class Editor:
    """A client: what it is told of each document is kept."""

    def __init__(self, encodings=None, begin=True):
        self.server = subprocess.Popen(
            [PROGRAM, "lsp"], stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.PIPE
        )
        self.told, self.version = {}, {}
        self.news = threading.Condition()
        self.endpoint = Endpoint(
            {"textDocument/publishDiagnostics": self.take},
            JsonRpcStreamWriter(self.server.stdin).write,
        )
        reader = JsonRpcStreamReader(self.server.stdout)
        threading.Thread(target=reader.listen, args=(self.endpoint.consume,), daemon=True).start()
        if begin:
            general = {"positionEncodings": encodings} if encodings else {}
            self.answer = self.ask("initialize", capabilities={"general": general})
            self.endpoint.notify("initialized", {})

    def take(self, params):
        with self.news:
            self.told[params["uri"]] = params
            self.news.notify_all()

    def ask(self, method, **params):
        return self.endpoint.request(method, params).result(20)

    def refused(self, method, **params):
        try:
            self.ask(method, **params)
        except JsonRpcException as failure:
            return failure.code
        return None

    def tell(self, method, **params):
        self.endpoint.notify(method, params)

    def open(self, name, text):
        uri = "file://" + os.path.join(FOLDER, name)
        self.version[uri] = 1
        self.tell(
            "textDocument/didOpen",
            textDocument={"uri": uri, "languageId": "yaml", "version": 1, "text": text},
        )
        return uri

    def change(self, uri, *changes):
        self.version[uri] += 1
        self.tell(
            "textDocument/didChange",
            textDocument={"uri": uri, "version": self.version[uri]},
            contentChanges=list(changes),
        )

    def diagnostics(self, uri):
        """Of the version that was sent last."""
        with self.news:
            told = self.news.wait_for(
                lambda: self.told.get(uri, {}).get("version") == self.version[uri], 20
            )
            return self.told[uri]["diagnostics"] if told else None

    def about(self, method, uri, place=None, **more):
        if place:
            more["position"] = {"line": place[0], "character": place[1]}
        return self.ask("textDocument/" + method, textDocument={"uri": uri}, **more)

    def labels(self, uri, place):
        return [item["label"] for item in self.about("completion", uri, place)["items"]]

    def end(self):
        self.ask("shutdown")
        self.tell("exit")
        return self.server.wait(20)


def read(name):
    with open(os.path.join(FOLDER, name), encoding="utf-8") as file:
        return file.read()


def marked(text):
    """The text without its mark |, and where that stood."""
    before = text[: text.index("|")]
    line = before.count("\n")
    return text.replace("|", "", 1), (line, len(before) - before.rfind("\n") - 1)


def begins_and_ends():
    editor = Editor(begin=False)
    tried("nothing is answered before it begins", editor.refused("shutdown") == -32002)
    answer = editor.ask("initialize", capabilities={})
    can = answer["capabilities"]
    tried("places count UTF-16 where nothing else is offered", can["positionEncoding"] == "utf-16")
    tried("it offers no formatting: numbers stay as they were written",
          not [key for key in can if "ormatting" in key], can)
    tried("it begins once", editor.refused("initialize", capabilities={}) == -32600)
    tried("what there is not is refused", editor.refused("textDocument/rename") == -32601)
    tried("a document that is not open too",
          editor.refused("textDocument/hover", textDocument={"uri": "file:///none"},
                         position={"line": 0, "character": 0}) == -32602)
    editor.tell("textDocument/willSave", textDocument={"uri": "file:///none"})
    tried("a notification that is not known is left alone", editor.refused("no/such") == -32601)
    editor.ask("shutdown")
    tried("after the shutdown nothing is answered", editor.refused("shutdown") == -32600)
    editor.tell("exit")
    tried("and it ends with 0", editor.server.wait(20) == 0)
    editor = Editor()
    editor.tell("exit")
    tried("without a shutdown it ends with 1", editor.server.wait(20) == 1)


def sends(data):
    """What comes of bytes that are no conversation: status and output."""
    run = subprocess.run([PROGRAM, "lsp"], input=data, capture_output=True, timeout=20, check=False)
    return run.returncode, run.stdout, run.stderr


def framed(body):
    return b"Content-Length: %d\r\n\r\n%s" % (len(body), body)


def takes_what_is_no_message():
    status, out, said = sends(framed(b"{no json") + framed(b"[]") + framed(b"{}"))
    tried("what is no JSON gets an error", b"-32700" in out and status == 1, out)
    tried("what has no method too", out.count(b"-32600") == 2, out)
    tried("an end out of turn is told", b"went away" in said, said)
    for what, data in (
        ("a header without a length", b"X: 1\r\n\r\n{}"),
        ("a length of 9 MiB", b"Content-Length: 9437184\r\n\r\n"),
        ("an endless header", b"X: 1\r\n" * 2000),
        ("half a message", b"Content-Length: 5\r\n\r\n{"),
        ("bytes of every kind", bytes(range(256)) * 40),
    ):
        status, _, said = sends(data)
        tried(what + " ends it with 1", status == 1 and said.startswith(b"plugwright: "), said)
    deep = framed(b"[" * 100000)
    tried("deep brackets get an error", b"-32700" in sends(deep)[1])
    for body in (b'{"id":1,"method":7}', b'{"id":{},"method":"initialize","params":[]}',
                 b'{"id":1,"method":"initialize","params":{"capabilities":7}}',
                 b'{"method":"textDocument/didChange","params":{"contentChanges":[7]}}'):
        tried("it goes on behind " + body.decode(), b'"jsonrpc"' in sends(
            framed(body) + framed(b'{"id":2,"method":"x"}'))[1])


def shows_diagnostics():
    editor = Editor()
    text = read("grebe.yaml")
    uri = editor.open("grebe.yaml", text)
    tried("a sound recipe has none", editor.diagnostics(uri) == [], editor.diagnostics(uri))
    line = text[: text.index("  length: 95 mm")].count("\n")
    edit = {"range": {"start": {"line": line, "character": 10}, "end": {"line": line, "character": 15}},
            "text": "95 g"}
    editor.change(uri, edit)
    found = editor.diagnostics(uri)
    tried("a wrong unit is told at its place while it is typed",
          len(found) == 1 and found[0]["range"] == {"start": {"line": line, "character": 10},
                                                    "end": {"line": line, "character": 14}}
          and found[0]["severity"] == 1 and "a length is due" in found[0]["message"], found)
    edit["range"]["end"]["character"] = 14
    edit["text"] = "95 mm"
    editor.change(uri, edit)
    tried("and gone when it is mended", editor.diagnostics(uri) == [])
    editor.change(uri, {"text": text.replace("name: Grebe 95", "name: 'Grebe \U0001F41F 95', mke: 2")})
    found = editor.diagnostics(uri)
    tried("a syntax error too", found and found[0]["code"] == "syntax", found)
    editor.tell("textDocument/didClose", textDocument={"uri": uri})
    editor.ask("shutdown")
    tried("a document that is closed has none", editor.told[uri]["diagnostics"] == [])
    editor.tell("exit")


def says_what_check_says(folder):
    """Of every recipe there, in the end, hints that are tried while nobody types included."""
    names = sorted(name for name in os.listdir(folder) if name.endswith(".yaml"))
    paths = [os.path.join(folder, name) for name in names]
    checked = [json.loads(subprocess.run([PROGRAM, "check", "--json", path], stdout=subprocess.PIPE,
                                         stderr=subprocess.DEVNULL, check=False).stdout)["diagnostics"]
               for path in paths]
    others = []
    for begin in range(0, len(paths), 50):
        editor, uris = Editor(), {}
        for path in paths[begin : begin + 50]:
            try:
                with open(path, encoding="utf-8", newline="") as file:
                    uris[path] = editor.open(path, file.read())
            except UnicodeDecodeError:
                pass  # no editor could send it
        for path, due in zip(paths[begin : begin + 50], checked[begin : begin + 50]):
            if path not in uris or any(d["file"] != path for d in due):
                continue  # the fault of a base is told at its name
            due = sorted((d["line"], d["rule"], d["message"], d.get("hint") or "") for d in due)

            def found():
                told = editor.told.get(uris[path], {}).get("diagnostics", [])
                return sorted((d["range"]["start"]["line"] + 1, d["code"],
                               *(d["message"].split("\n", 1) + [""])[:2]) for d in told)

            with editor.news:
                if not editor.news.wait_for(lambda: found() == due, 30):
                    others.append((path, due, found()))
        editor.end()
    tried("of %d recipes it says what check says" % len(paths), len(paths) > 10 and not others, others)


def follows_other_files():
    editor = Editor()
    uri = editor.open("grebe-dusk.yaml", read("grebe-dusk.yaml"))
    tried("a variant finds its base", editor.diagnostics(uri) == [], editor.diagnostics(uri))
    line = read("grebe-dusk.yaml").split("\n").index("base: grebe.yaml")
    place = editor.about("definition", uri, (line, 8))
    tried("and leads to it", place and place["uri"] == "file://" + os.path.join(FOLDER, "grebe.yaml"),
          place)
    hints = editor.about("inlayHint", uri, range={"start": {"line": 0, "character": 0},
                                                  "end": {"line": 999, "character": 0}})
    tried("mass and reserve stand beside the base",
          [h["position"]["line"] for h in hints if "reserve" in h["label"]] == [line], hints)
    good = read("grebe.yaml")
    with open(os.path.join(FOLDER, "grebe.yaml"), "w", encoding="utf-8") as file:
        file.write(good.replace("length: 95 mm", "length: 95 g"))
    editor.tell("textDocument/didSave", textDocument={"uri": "file://" + FOLDER + "/grebe.yaml"})
    editor.told.clear()
    found = editor.diagnostics(uri)
    tried("a fault of the base is told at its name after a save",
          found and found[0]["range"]["start"]["line"] == line
          and "grebe.yaml:" in found[0]["message"], found)
    with open(os.path.join(FOLDER, "grebe.yaml"), "w", encoding="utf-8") as file:
        file.write(good)
    uri = editor.open("new.yaml", "recipe: 1\nbase: grebe.yaml\nname: A new one\n")
    tried("a file that is not saved yet finds its base", editor.diagnostics(uri) == [],
          editor.diagnostics(uri))
    uri = editor.open("far.yaml", "recipe: 1\nbase: ../../../etc/passwd\nname: A far one\n")
    found = editor.diagnostics(uri)
    tried("no base leaves the folder", found and found[0]["code"] == "base"
          and "root:" not in json.dumps(found), found)
    editor.end()


def completes():
    editor = Editor()
    uri = editor.open("own.yaml", "")

    def offers(text):
        text, place = marked(text)
        editor.change(uri, {"text": text})
        return editor.labels(uri, place)

    start = "recipe: 1\nname: A\n"
    tried("keys of the recipe", {"wood", "body", "lip"} <= set(offers(start + "|")))
    tried("but for those that are there", "name" not in offers(start + "|"))
    tried("keys of a part", {"species", "moisture"} <= set(offers(start + "wood: {|}")))
    tried("woods", "basswood" in offers(start + "wood: {species: |}"))
    tried("units behind a number", {"mm", "in"} <= set(offers(start + "body:\n  length: 95 |")))
    tried("of what is measured", "g" not in offers(start + "body:\n  length: 95 |"))
    tried("solve where it may stand",
          "solve" in offers(start + "ballast:\n  bores:\n  - {at: 30 mm, load: |}"))
    layer = "finish:\n  paint:\n    layers:\n    - {colour: white, hex: \"#F0F0E8\", kind: opaque}\n"
    tried("colours that are there already",
          offers(start + layer + "    - {colour: bone, hex: |}") == ['"#F0F0E8"'])
    text, place = marked(start + "body:\n  length: 95m|\n")
    editor.change(uri, {"text": text})
    edit = editor.about("completion", uri, place)["items"][0]["textEdit"]
    tried("a unit behind its number without a blank", edit["newText"].startswith("95m")
          or edit["newText"] == "95 mm", edit)
    text, place = marked(start + "name: \U0001F41F # a fish\nwood: {sp|: basswood}")
    editor.change(uri, {"text": text})
    edit = editor.about("completion", uri, place)["items"][0]["textEdit"]
    tried("an edit takes the place of what was begun",
          edit == {"range": {"start": {"line": 3, "character": 7}, "end": {"line": 3, "character": 9}},
                   "newText": "species"}, edit)
    text, place = marked(start + "wood: {species: bass|wood}")
    editor.change(uri, {"text": text})
    hover = editor.about("hover", uri, place)["contents"]["value"]
    tried("a wood is told with figures and source",
          "Tilia" in hover and "Wood Handbook" in hover, hover)
    text, place = marked(start + "lip:\n  ang|le: 40 deg")
    editor.change(uri, {"text": text})
    hover = editor.about("hover", uri, place)["contents"]["value"]
    tried("a key with what it says and its range", "datum" in hover and "90 deg" in hover, hover)
    text, place = marked(start + "finish:\n  topcoat:\n    kind: epoxy\n    po|t life: 30 min")
    editor.change(uri, {"text": text})
    hover = editor.about("hover", uri, place)["contents"]["value"]
    tried("and its default", "Default: by kind" in hover, hover)
    editor.end()


def hints_say_what_follows():
    editor = Editor()
    text = read("grebe.yaml")
    uri = editor.open("grebe.yaml", text)
    lines = text.split("\n")

    def hints(first=0, last=9999):
        found = editor.about("inlayHint", uri, range={"start": {"line": first, "character": 0},
                                                      "end": {"line": last, "character": 0}})
        return {(lines[h["position"]["line"]].strip().split(":")[0], h["label"]) for h in found}

    report = json.loads(subprocess.run([PROGRAM, "weigh", "--json", os.path.join(FOLDER, "grebe.yaml")],
                                       capture_output=True, check=True).stdout)
    labels = sorted(label for _, label in hints())
    loads = ["%.1f g" % bore["load_g"] for bore in report["ballast"]["bores"]]
    tried("the solved loads stand at them", all(load in labels for load in loads), (labels, loads))
    mass = "finished %.1f g" % report["float"]["finished"]["mass_g"]
    tried("mass and reserve beside the ballast",
          any(key == "ballast" and label.startswith(mass) for key, label in hints()), labels)
    tried("the blank beside the body",
          any(key == "body" and label.startswith("blank 101") for key, label in hints()), labels)
    tried("the running depth beside the lip",
          any(key == "lip" and label.startswith("runs at 2.6 m") for key, label in hints()), labels)
    row = [i for i, line in enumerate(lines) if line.startswith("body:")][0]
    tried("only lines that were asked for", {key for key, _ in hints(row, row)} == {"body"})
    editor.change(uri, {"text": text.replace("length: 95 mm", "length: 95 g")})
    tried("none of a recipe with errors", hints() == set())
    editor.end()


def shows_the_outline():
    editor = Editor()
    uri = editor.open("grebe.yaml", read("grebe.yaml"))
    names = [symbol["name"] for symbol in editor.about("documentSymbol", uri)]
    tried("the parts are the outline, in their order",
          names[:2] == ["recipe", "name"] and names.index("body") < names.index("ballast"), names)
    colours = editor.about("documentColor", uri)
    tried("colours are shown", len(colours) == read("grebe.yaml").count("hex:"), colours)
    text = editor.about("colorPresentation", uri, color={"red": 1, "green": 0.5, "blue": 0, "alpha": 1},
                        range=colours[0]["range"])[0]["label"]
    tried("and written as a recipe does", text == '"#FF8000"', text)
    editor.end()


def edits_are_followed(encoding):
    """Random edits of ranges in a text of several lines, with characters of one to four bytes: the
    server holds the editor's text in the end, since it shows the same text as of the whole."""
    dice = random.Random(7)
    editor, fresh = Editor([encoding]), Editor([encoding])
    unit, size = {"utf-8": ("utf-8", 1), "utf-16": ("utf-16-le", 2)}[encoding]
    tried("places count " + encoding, editor.answer["capabilities"]["positionEncoding"] == encoding)
    pieces = ["a", "95 mm", "\n  b", ": ", "{", "\U0001F41F", "\u00e9", "\u20ac", "'", "#", "\r\n  c"]
    text = "recipe: 1\nname: A\nnote: |\n  a"
    least = len(text)
    uri = editor.open("note.yaml", text)

    def place(at):
        lines = text[:at].replace("\r\n", "\n").split("\n")
        return {"line": len(lines) - 1, "character": len(lines[-1].encode(unit)) // size}

    for round_ in range(120):
        changes = []
        for _ in range(dice.randrange(1, 4)):
            begin = dice.randrange(least, len(text) + 1)
            end = min(len(text), begin + dice.choice([0, 1, 3, 8]))
            if set("\r\n ") & set(text[begin - 1 : end + 1]):
                end = begin = len(text)
            new = "".join(dice.choice(pieces) for _ in range(dice.randrange(2)))
            changes.append({"range": {"start": place(begin), "end": place(end)}, "text": new})
            text = text[:begin] + new + text[end:]
        editor.change(uri, *changes)
        if round_ % 50 == 0:
            editor.labels(uri, (dice.randrange(60), dice.randrange(20)))
    whole = fresh.open("note.yaml", text)
    found, due = editor.about("documentSymbol", uri), fresh.about("documentSymbol", whole)
    note = found[-1]
    tried("after 120 edits in %s its text is the editor's" % encoding,
          found == due and note["name"] == "note" and "\U0001F41F" in note["detail"], (found, due))
    tried("and all of it was shown", len(note["detail"]) > 150 and "..." not in note["detail"], note)
    editor.end()
    fresh.end()


def nothing_gets_out():
    editor = Editor()
    hostile = "</b>\\u202e\\e[31m<script>x</script>"
    text = 'recipe: 1\nname: "%s"\nwood: {species: "%s"}\n"%s": 1\n' % (hostile, hostile, hostile)
    uri = editor.open("hostile.yaml", text)
    found = json.dumps(editor.diagnostics(uri)) + json.dumps(editor.about("documentSymbol", uri))
    tried("no hidden character is sent on", "\\u202e" not in found and "\\u001b" not in found, found)
    many = [editor.open("many-%d.yaml" % i, "recipe: 1\n") for i in range(80)]
    tried("of too many documents the first are kept",
          editor.diagnostics(many[0]) and editor.refused("textDocument/documentSymbol",
                                                         textDocument={"uri": many[79]}) == -32602)
    big = editor.change(uri, {"text": "a: " * 400000})
    tried("a text of more than a megabyte is refused and not followed",
          editor.diagnostics(uri)[0]["code"] != "", big)
    editor.end()


def is_quick_enough_to_follow():
    """No figure is judged here: that a run of keystrokes costs one compilation each at most."""
    editor = Editor()
    text = read("grebe.yaml")
    uri = editor.open("grebe.yaml", text)
    editor.diagnostics(uri)
    counted = []
    take = editor.take
    editor.take = None
    with editor.news:
        editor.told.clear()

    def count(params):
        counted.append(params["version"])
        take(params)

    editor.endpoint._dispatcher["textDocument/publishDiagnostics"] = count
    for _ in range(200):
        editor.change(uri, {"range": {"start": {"line": 1, "character": 0},
                                      "end": {"line": 1, "character": 0}}, "text": "#"})
        editor.change(uri, {"range": {"start": {"line": 1, "character": 0},
                                      "end": {"line": 1, "character": 1}}, "text": ""})
    editor.diagnostics(uri)
    time.sleep(0.1)
    tried("of keystrokes that come faster than it compiles the last counts",
          counted[-1] == editor.version[uri] and len(counted) < 400, len(counted))
    editor.end()


begins_and_ends()
takes_what_is_no_message()
shows_diagnostics()
for folder in sys.argv[2:]:
    says_what_check_says(os.path.realpath(folder))
follows_other_files()
completes()
hints_say_what_follows()
shows_the_outline()
edits_are_followed("utf-16")
edits_are_followed("utf-8")
nothing_gets_out()
is_quick_enough_to_follow()
print("+ all of it was tried")
