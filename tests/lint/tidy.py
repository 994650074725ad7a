"""clang-tidy with the short list of .clang-tidy, on the core's sources; needs a folder built with clang (compile_commands.json)."""
import json
import os
import shutil
import subprocess
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import rooms
from tree import write

TOOL = "clang-tidy-19"


def problems(root, build=None):
    if not shutil.which(TOOL):
        return [f"{TOOL} is not installed: ./check installs it"]
    commands = build / "compile_commands.json" if build else None
    if not commands or not commands.exists():
        return ["needs --build, a folder configured with clang"]
    core = [root / "src" / room for room, (_, is_core) in rooms.table(root).items() if is_core]
    known = {Path(c["directory"], c["file"]).resolve() for c in json.loads(commands.read_text(encoding="utf-8"))}
    sources = sorted(p for p in known if p.parent in core)
    if not sources:
        return ["no source of the core in compile_commands.json"]

    def one(path):
        run = subprocess.run([TOOL, "--quiet", "-p", str(build), str(path)], cwd=root, capture_output=True, text=True)
        said = [l for l in run.stdout.splitlines() if ": warning: " in l or ": error: " in l]
        return said or ([f"{path}: {run.stderr.strip()[-200:]}"] if run.returncode else [])

    with ThreadPoolExecutor(int(os.environ.get("LAMPSIDE_JOBS") or os.cpu_count() or 1)) as pool:
        found = sorted({line for lines in pool.map(one, sources) for line in lines})
    return [line.replace(f"{root}/", "") for line in found]


def _one(body):
    def plant(root):
        rooms._tree(root, low=body)
        shutil.copy(Path(__file__).resolve().parent.parent.parent / ".clang-tidy", root / ".clang-tidy")
        source = str(root / "src/low/low.cpp")
        write(root / "build/compile_commands.json",
              json.dumps([{"directory": str(root), "file": source, "command": f"clang++-19 -std=c++20 -c {source}"}]))
    return plant


TWINS = [
    ("a clean file", _one("int low(int x) { return x + 1; }\n"), None),
    ("whole numbers divided into a fraction", _one("double low(int x) { return 1.5 * (x / 2); }\n"), "bugprone-integer-division"),
    ("a string copied for nothing", _one("#include <string>\nunsigned long low(std::string s) { return s.size(); }\n"),
     "performance-unnecessary-value-param"),
    ("a virtual function without override", _one("struct A { virtual ~A() = default; virtual void f(); };\n"
                                                 "struct B : A { virtual void f(); };\n"), "modernize-use-override"),
]
