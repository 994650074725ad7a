#!/usr/bin/env python3
"""lint.py NAME [--root DIR] [--build DIR] [--twin]: runs one lint; exit 1 when it finds something.

--twin: writes a tree with the fault in it and expects the lint to find each planted fault, and nothing in a clean tree.
"""
import argparse
import importlib
import sys
import tempfile
from pathlib import Path

HERE = Path(__file__).resolve().parent


def run_twin(lint):
    """Each twin: (what is planted, folder to lint, a text its report must hold). The text None: a clean tree, no report."""
    failures = 0
    with tempfile.TemporaryDirectory(prefix="lampside-lint-") as name:
        for number, (what, plant, wanted) in enumerate(lint.TWINS):
            root = Path(name) / str(number)
            root.mkdir()
            plant(root)
            found = lint.problems(root, root / "build")
            if wanted is None:
                good = not found
            else:
                good = any(wanted in line for line in found)
            print(f"{'ok' if good else 'NOT CAUGHT' if wanted else 'FALSE ALARM'}: {what}")
            if not good:
                failures += 1
                print("  reported:", *(found or ["nothing"]), sep="\n    ")
    if not any(wanted is None for _, _, wanted in lint.TWINS):
        print("no clean twin: the lint might report everything")
        failures += 1
    return failures


def main():
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("name")
    parser.add_argument("--root", type=Path, default=HERE.parent.parent)
    parser.add_argument("--build", type=Path)
    parser.add_argument("--twin", action="store_true")
    args = parser.parse_args()
    lint = importlib.import_module(args.name)
    if args.twin:
        return 1 if run_twin(lint) else 0
    found = lint.problems(args.root.resolve(), args.build.resolve() if args.build else None)
    for line in found:
        print(line)
    print(f"{args.name}: {len(found)} found")
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main())
