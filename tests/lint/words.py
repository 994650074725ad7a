"""Words that must not be in the tree: places of one machine, hosts things are fetched from, work left undone."""
import re

from tree import text_files, write

# A letter in brackets keeps this file itself from matching.
RULES = [
    ("a path of one machine", re.compile(r"(?<![\w.])/(?:[w]ork|[h]ome/[a-z]\w*|[r]oot|[U]sers/[A-Za-z]\w*|[m]nt/[a-z]\w*)/[\w.]")),
    ("a host that packages are fetched from", re.compile(
        r"(?i)\b(?:[r]egistry\.[a-z]|[n]pmjs\.|[p]ypi\.|[c]rates\.io|[d]eb\.debian|[p]roxy\.golang|[a]rtifactory|[n]exus\.[a-z])")),
    ("the number of an issue", re.compile(r"(?i)\b[i]ssues? #?\d+\b|(?<![\w&])#\d{1,4}\b(?![0-9a-fA-F])(?=.*\b[f]ixes\b)")),
    ("work left undone", re.compile(r"\b(?:[T]ODO|[F]IXME|[X]XX|[H]ACK)\b")),
]
# What a file may hold all the same, and why.
ALLOWED = {}


def problems(root, build=None):
    found = []
    for path, text in text_files(root):
        where = path.relative_to(root).as_posix()
        for number, line in enumerate(text.splitlines(), 1):
            for what, pattern in RULES:
                hit = pattern.search(line)
                if hit and (where, what) not in ALLOWED:
                    found.append(f"{where}:{number}: {what}: {hit.group(0).strip()}")
    return found


def _one(text):
    return lambda root: write(root / "docs/page.md", text + "\n")


TWINS = [
    ("a clean page", _one("Issues are told to a person. See /etc/os-release, ~/litters and src/work/shop. Colour #123456."), None),
    ("a path under a home folder", _one("lies in /ho" + "me/anna/lampside"), "a path of one machine"),
    ("a path of a work folder", _one("see /wo" + "rk/thing"), "a path of one machine"),
    ("a package host", _one("from https://regi" + "stry.npm" + "js.org/x"), "a host that packages"),
    ("an issue's number", _one("done for is" + "sue 12"), "the number of an issue"),
    ("an unfinished corner", _one("// TO" + "DO later"), "work left undone"),
    ("a fault to mend", _one("/* FIX" + "ME */"), "work left undone"),
]
