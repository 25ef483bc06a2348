"""How long an editor waits for a keystroke's diagnostics, and for the hints behind it.

usage: bench_lsp.py PROGRAM RECIPE...    recipes whose body has a length in mm
Prints the middle and the longest of so many keystrokes, each another length.
"""
import json
import os
import re
import subprocess
import sys
import time

KEYSTROKES = 40


class Server:
    def __init__(self, program):
        self.run = subprocess.Popen([program, "lsp"], stdin=subprocess.PIPE, stdout=subprocess.PIPE)

    def send(self, method, params, number=None):
        message = {"jsonrpc": "2.0", "method": method, "params": params}
        if number is not None:
            message["id"] = number
        body = json.dumps(message).encode()
        self.run.stdin.write(b"Content-Length: %d\r\n\r\n%s" % (len(body), body))
        self.run.stdin.flush()

    def take(self, is_due):
        """The next message that is waited for."""
        while True:
            size = 0
            while (line := self.run.stdout.readline().strip()):
                size = int(line.split(b":")[1])
            message = json.loads(self.run.stdout.read(size))
            if is_due(message):
                return message

    def answer(self, number):
        return self.take(lambda message: message.get("id") == number)

    def diagnostics(self, version):
        return self.take(lambda message: message.get("params", {}).get("version") == version)


def measure(program, path):
    """Milliseconds to the diagnostics, and from there to the hints, of each keystroke."""
    text = open(path, encoding="utf-8").read()
    found = re.search(r"length: ([\d.]+) mm", text)
    line, column = text[: found.start(1)].count("\n"), found.start(1) - text.rfind("\n", 0, found.start(1)) - 1
    uri = "file://" + os.path.abspath(path)
    server, told, hinted = Server(program), [], []
    server.send("initialize", {"capabilities": {}}, 0)
    server.answer(0)
    server.send("textDocument/didOpen", {"textDocument": {"uri": uri, "languageId": "yaml", "version": 0, "text": text}})
    server.diagnostics(0)
    size = len(found[1])
    for i in range(1, KEYSTROKES + 1):
        new = "%.2f" % (float(found[1]) + i / 20)
        edit = {"range": {"start": {"line": line, "character": column},
                          "end": {"line": line, "character": column + size}}, "text": new}
        start = time.perf_counter()
        server.send("textDocument/didChange", {"textDocument": {"uri": uri, "version": i}, "contentChanges": [edit]})
        server.diagnostics(i)
        told.append((time.perf_counter() - start) * 1e3)
        start = time.perf_counter()
        server.send("textDocument/inlayHint", {"textDocument": {"uri": uri},
                                               "range": {"start": {"line": 0, "character": 0},
                                                         "end": {"line": 9999, "character": 0}}}, i)
        server.answer(i)
        hinted.append((time.perf_counter() - start) * 1e3)
        size = len(new)
    server.send("shutdown", None, 0)
    server.send("exit", None)
    server.run.wait()
    return sorted(told), sorted(hinted)


for path in sys.argv[2:]:
    told, hinted = measure(sys.argv[1], path)
    print("%s: a keystroke, to its diagnostics %.1f ms (at most %.1f), to its hints %.1f ms more (at most %.1f)"
          % (os.path.basename(path), told[KEYSTROKES // 2], told[-1], hinted[KEYSTROKES // 2], hinted[-1]))
