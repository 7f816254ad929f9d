"""What scripts/evaluate and scripts/ladder share: lines of sessions in build/evaluate/<key>/, shards, and the documents they end in."""
import glob
import hashlib
import os

ROOT = os.path.dirname(os.path.dirname(os.path.abspath(__file__)))


def key(patterns):
    """Of what the numbers depend on."""
    hashed = hashlib.sha256()
    for pattern in patterns:
        for path in sorted(glob.glob(f"{ROOT}/{pattern}")):
            hashed.update(open(path, "rb").read())
    return hashed.hexdigest()[:12]


def rows_of(path):
    """Whole lines as lists of numbers."""
    if not os.path.exists(path):
        return []
    return [[float(cell) for cell in line.split("\t")] for line in open(path) if line.endswith("\n")]


def mine(things):
    """This shard's part."""
    part, parts = map(int, os.environ.get("SHARD", "1/1").split("/"))
    return [thing for i, thing in enumerate(things) if i % parts == part - 1]


def write(mark, text):
    """Between the marks in docs/evaluation.md."""
    path, begin, end = f"{ROOT}/docs/evaluation.md", f"<!-- {mark} -->\n", f"<!-- /{mark} -->"
    before, rest = open(path).read().split(begin)
    after = rest.split(end)[1]
    with open(path, "w") as file:
        file.write(before + begin + "\n" + text + "\n" + end + after)
