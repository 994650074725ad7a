#!/usr/bin/env python3
"""Counts single test cases. Usage: tally.py TALLY ctest NAME JUNIT CASES   adds a ctest run to the file TALLY
                                     tally.py TALLY one NAME pass|fail|skip [WHY]   adds one test
                                     tally.py TALLY end   lists what failed and was skipped, ends with the sum

A GoogleTest program counts with each of its cases, read from the JSON it wrote into CASES; any other test, and a whole
program run a second time under a sanitizer, counts as one. A program that fails or dies without saying which case
is one failure. TALLY is a file of lines "pass|fail|skip<TAB>name<TAB>why".
"""
import json
import sys
import xml.etree.ElementTree as xml
from pathlib import Path

STATUS = {"run": "pass", "fail": "fail", "notrun": "skip", "disabled": "skip"}


def program_cases(path):
    """(status, name, why) of each case in one GoogleTest report."""
    for suite in json.loads(path.read_text(encoding="utf-8"))["testsuites"]:
        for case in suite["testsuite"]:
            name = f"{suite['name']}.{case['name']}"
            if case.get("failures"):
                yield "fail", name, case["failures"][0]["failure"].strip().splitlines()[-1][:160]
            elif case.get("result") == "SKIPPED":
                yield "skip", name, " ".join(m["message"].strip() for m in case.get("skipped", [])) or "no reason given"
            elif case.get("status") == "NOTRUN":
                yield "skip", name, "switched off in the source"
            else:
                yield "pass", name, ""


def ctest(prefix, junit, cases):
    """The cases of one ctest run. A program whose own report is missing counts by what ctest saw of it."""
    for test in xml.parse(junit).getroot().iter("testcase"):
        name = test.get("name")
        status = STATUS.get(test.get("status"), "fail")
        said = (test.findtext("system-out") or "").strip().splitlines()
        report = cases / f"test_{name}.json" if cases else None
        if report and report.exists():
            rows = list(program_cases(report))
            yield from ((s, f"{prefix}{name}: {n}", why) for s, n, why in rows)
            if status == "fail" and not any(s == "fail" for s, _, _ in rows):
                yield "fail", prefix + name, "every case passed, but the program failed: " + (said[-1][:160] if said else "")
            if not rows:
                yield "fail", prefix + name, "ran no case at all"
        else:
            reason = {"fail": said[-1][:160] if said else "no output",
                      "skip": next((l for l in said if "skip" in l.lower()), "ctest did not run it")}.get(status, "")
            yield status, prefix + name, reason


def end(rows):
    count = {s: sum(r[0] == s for r in rows) for s in ("pass", "fail", "skip")}
    for status, title in (("skip", "Skipped"), ("fail", "Failed")):
        for _, name, why in (r for r in rows if r[0] == status):
            print(f"{title}: {name}" + (f" ({why})" if why else ""))
    if not count["pass"] and not count["fail"]:
        print("Nothing was run, which is a failure.")
        count["fail"] = 1
    print(f"{count['pass']} passed, {count['fail']} failed" + (f", {count['skip']} skipped" if count["skip"] else ""))
    return 1 if count["fail"] else 0


def main():
    tally, what, *args = Path(sys.argv[1]), *sys.argv[2:]
    if what == "end":
        text = tally.read_text(encoding="utf-8") if tally.exists() else ""
        return end([line.split("\t") for line in text.splitlines()])
    if what == "one":
        rows = [(args[1], args[0], args[2] if len(args) > 2 else "")]
    else:
        rows = list(ctest(args[0], Path(args[1]), Path(args[2]) if len(args) > 2 and args[2] else None))
        if not rows:
            rows = [("fail", args[0] + "ctest", "found no test")]
    with tally.open("a", encoding="utf-8") as out:
        for row in rows:
            out.write("\t".join(part.replace("\t", " ").replace("\n", " ") for part in row) + "\n")
    return 0


if __name__ == "__main__":
    sys.exit(main())
