"""demo/ is what tools/make_demo.py writes, and its journal keeps the rules every journal keeps."""
import json
import subprocess
import sys
from datetime import datetime

from tree import write

COMMON = ("id", "litter", "at", "written", "by", "kind")


def problems(root, build=None):
    found = []
    script, journal = root / "tools/make_demo.py", root / "demo/juniper.jsonl"
    if script.exists():
        run = subprocess.run([sys.executable, str(script), "--check"], capture_output=True, text=True)
        found += [run.stderr.strip()] if run.returncode else []
    if not journal.exists():
        return [*found, "demo/juniper.jsonl is missing"]
    ids = {}
    for number, line in enumerate(journal.read_text(encoding="utf-8").splitlines(), 1):
        entry = json.loads(line)
        found += [f"line {number}: no {name}" for name in COMMON if not entry.get(name)]
        if entry.get("id") in ids:
            found.append(f"line {number}: id used before, on line {ids[entry['id']]}")
        ids[entry.get("id")] = number
        for name in ("at", "written"):
            if datetime.fromisoformat(entry[name]).utcoffset() is None:
                found.append(f"line {number}: {name} without an offset")
        for name in ("strike", "corrects"):
            if name in entry and entry[name] not in ids:
                found.append(f"line {number}: {name} names an entry that is not before it")
    return found


def _journal(*entries):
    return lambda root: write(root / "demo/juniper.jsonl", "".join(json.dumps(e) + "\n" for e in entries))


GOOD = {"id": "a", "litter": "l", "at": "2026-10-01T10:00:00+01:00", "written": "2026-10-01T10:00:00+01:00", "by": "T", "kind": "note"}
TWINS = [
    ("a good journal", _journal(GOOD, dict(GOOD, id="b", kind="strike", strike="a")), None),
    ("an id used twice", _journal(GOOD, GOOD), "id used before"),
    ("a time without an offset", _journal(dict(GOOD, at="2026-10-01T10:00:00")), "at without an offset"),
    ("a strike at nothing", _journal(dict(GOOD, kind="strike", strike="z")), "not before it"),
    ("no author", _journal(dict(GOOD, by="")), "no by"),
    ("no journal", lambda r: None, "missing"),
]
