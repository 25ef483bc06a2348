"""Whether the shopping list of a plan is the sum of the orders, less what the stock has.  Prints a line
for each item that is not, and ends with 1 then.  Usage: shopping.py PROGRAM RECIPE..."""
import collections
import json
import re
import subprocess
import sys

PROGRAM, RECIPES = sys.argv[1], sys.argv[2:]
SI = {"ml": 1e-6, "cm2": 1e-4, "mm": 1e-3, "g": 1e-3}


def printed(*arguments):
    return json.loads(subprocess.run([PROGRAM, *arguments], stdout=subprocess.PIPE, check=True).stdout)


needed, listed, faults = collections.Counter(), collections.Counter(), 0
for recipe in RECIPES:
    for row in printed("weigh", "--json", recipe)["materials"]:
        needed[re.sub(r" for bore \d+$", "", row["item"])] += row["run"] * SI.get(row["unit"], 1)
for row in printed("plan", "--json", *RECIPES)["shopping"]:
    item = re.sub(r" \(\w+\)$", "", row["item"])  # of a topcoat, whose two parts are not told apart
    listed[item] += row["amount"]
    if abs(row["amount"] - row["on_hand"] - row["to_buy"]) > 1e-12 or row["on_hand"] < 0:
        print("%s: of %g, %g on hand, %g to buy" % (item, row["amount"], row["on_hand"], row["to_buy"]))
        faults += 1
for item in sorted(set(needed) | set(listed)):
    if abs(needed[item] - listed[item]) > 1e-9 * needed[item]:
        print("%s: the orders need %g, the list has %g" % (item, needed[item], listed[item]))
        faults += 1
sys.exit(faults > 0)
