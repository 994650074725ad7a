"""Every C++ file is laid out as .clang-format says (clang-format 19; other versions differ in details)."""
import shutil
import subprocess
from pathlib import Path

from tree import files, write

TOOL = "clang-format-19"


def problems(root, build=None):
    if not shutil.which(TOOL):
        return [f"{TOOL} is not installed: ./check installs it"]
    sources = [p for d in ("src", "tests", "bench", "tools") if (root / d).is_dir() for p in files(root / d, ".cpp", ".hpp")]
    if not sources:
        return ["no C++ file found"]
    run = subprocess.run([TOOL, "--dry-run", "--style=file", *map(str, sources)], cwd=root, capture_output=True, text=True)
    bad = sorted({line.split(":")[0] for line in run.stderr.splitlines() if "[-Wclang-format-violations]" in line})
    found = [f"{Path(p).relative_to(root)}: not laid out, run {TOOL} -i on it" for p in bad]
    return found or ([run.stderr.strip()] if run.returncode else [])


def _one(text):
    def plant(root):
        write(root / ".clang-format", "BasedOnStyle: Google\nColumnLimit: 120\n")
        write(root / "src/a/a.cpp", text)
    return plant


TWINS = [
    ("a clean file", _one("int f(int x) { return x + 1; }\n"), None),
    ("a crooked file", _one("int  f( int x ){return x+1 ;}\n"), "src/a/a.cpp: not laid out"),
    ("no file at all", lambda r: None, "no C++ file found"),
]
