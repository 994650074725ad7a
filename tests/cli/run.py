#!/usr/bin/env python3
"""Runs transcripts of the command line.

    run.py --lampside PROGRAM --root SOURCE FILE...     each a .transcript, or a .md whose ```console blocks are one
    run.py --lampside PROGRAM --root SOURCE --examples  every command has --help, and its example runs
    run.py --lampside PROGRAM --root SOURCE --twin      transcripts that are wrong must be caught

A transcript runs in an empty folder of its own that holds `demo`, a link to the invented litter:

    # a remark
    $ command          run by bash; lines beginning with "> " go on with it
    expected           what it prints: line by line, nothing more and nothing less
    ! expected         the same for stderr
    ...                any number of lines ("! ..." on stderr)
    -> 1               the exit code, 0 when not said; "-> 1 under 100 MB" also bounds the memory it took

Inside a line {{tmp}} is the folder and {{/regex/}} a regular expression.
"""
import argparse
import os
import pathlib
import re
import signal
import subprocess
import sys
import tempfile
import threading

TIMEOUT_S = 240

# `begin COMMAND...` starts a server and waits for the address it prints, which is then in $url; `end SIGNAL` stops it and
# gives its exit code. `fetch PATH` prints a page of it.
PRELUDE = r"""
set -o pipefail
begin() {
  : >served.txt  # or the last server's address would be read before this one begins
  "$@" >served.txt 2>served.err & server=$!
  for _ in $(seq 600); do
    url=$(grep -o 'http://[^ ]*' served.txt | head -1)
    [[ -n $url ]] && return
    kill -0 $server 2>/dev/null || break
    sleep 0.1
  done
  cat served.err >&2
  return 1
}
end() { kill -"$1" $server; wait $server; }
fetch() { python3 -c 'import sys, urllib.request; print(urllib.request.urlopen(sys.argv[1], timeout=30).read().decode())' "$url${1#/}"; }
"""


class Step:
    def __init__(self, line_number, command):
        self.line_number, self.command = line_number, command
        self.out, self.err, self.code, self.most_mb = [], [], 0, None


def steps_of(path, text):
    """The steps of a transcript; of a Markdown file, those of its console blocks."""
    steps, inside = [], not str(path).endswith(".md")
    for number, line in enumerate(text.splitlines(), 1):
        if str(path).endswith(".md") and line.startswith("```"):
            inside = line.strip() == "```console"
            continue
        if not inside or line.startswith("# "):
            continue
        if line.startswith("$ "):
            steps.append(Step(number, line[2:]))
        elif not steps:
            if line.strip():
                raise SystemExit(f"{path}:{number}: text before the first command")
        elif line.startswith("> ") and not steps[-1].out and not steps[-1].err:
            steps[-1].command += "\n" + line[2:]
        elif match := re.fullmatch(r"-> (\d+)(?: under (\d+) MB)?", line):
            steps[-1].code = int(match[1])
            steps[-1].most_mb = int(match[2]) if match[2] else None
        elif line.startswith("! "):
            steps[-1].err.append(line[2:])
        else:
            steps[-1].out.append(line)
    for step in steps:
        while step.out and not step.out[-1]:
            step.out.pop()
    if not steps:
        raise SystemExit(f"{path}: no command in it")
    return steps


def line_matches(want, got, tmp):
    parts = re.split(r"(\{\{tmp\}\}|\{\{/.*?/\}\})", want)
    pattern = "".join(
        re.escape(tmp) if p == "{{tmp}}" else p[3:-3] if p.startswith("{{/") else re.escape(p) for p in parts)
    return re.fullmatch(pattern, got) is not None


def lines_match(want, got, tmp):
    if not want:
        return not got
    if want[0] == "...":
        return any(lines_match(want[1:], got[n:], tmp) for n in range(len(got) + 1))
    return bool(got) and line_matches(want[0], got[0], tmp) and lines_match(want[1:], got[1:], tmp)


class Folder:
    """An empty folder with the demo in it, and an environment in which nothing of this machine's user shows."""

    def __init__(self, lampside, root):
        self.made = tempfile.TemporaryDirectory(prefix="transcript-")
        self.path = os.path.realpath(self.made.name)
        for name in ("home", "tmp"):
            os.mkdir(os.path.join(self.path, name))
        os.symlink(os.path.join(root, "demo"), os.path.join(self.path, "demo"))
        self.env = {
            "PATH": f"{os.path.dirname(os.path.abspath(lampside))}:/usr/local/bin:/usr/bin:/bin",
            "HOME": os.path.join(self.path, "home"),
            "TMPDIR": os.path.join(self.path, "tmp"),
            "LC_ALL": "C.UTF-8",
            "TZ": "Europe/Berlin",
            "ROOT": root,
        }
        for name in ("ASAN_OPTIONS", "UBSAN_OPTIONS", "TSAN_OPTIONS"):
            if name in os.environ:
                self.env[name] = os.environ[name]
        # Under the address sanitizer: what a library is known to keep is no news, nor that no program is there which names
        # addresses. A report still ends the program, and addr2line names them.
        self.env["ASAN_OPTIONS"] = self.env.get("ASAN_OPTIONS", "") + ":symbolize=0"
        self.env["LSAN_OPTIONS"] = "print_suppressions=0"

    def run(self, command):
        """(exit code, stdout, stderr, largest memory in MB of any process it waited for)"""
        child = subprocess.Popen(["bash", "-c", PRELUDE + command], cwd=self.path, env=self.env,
                                 stdin=subprocess.DEVNULL, stdout=subprocess.PIPE, stderr=subprocess.PIPE,
                                 start_new_session=True)
        kill = threading.Timer(TIMEOUT_S, lambda: os.killpg(child.pid, signal.SIGKILL))
        kill.start()
        taken = {}
        reader = threading.Thread(target=lambda: taken.update(err=child.stderr.read()))
        reader.start()
        out = child.stdout.read()
        reader.join()
        _, status, usage = os.wait4(child.pid, 0)
        kill.cancel()
        child.returncode = os.waitstatus_to_exitcode(status)
        child.stdout.close()
        child.stderr.close()
        text = [t.decode("utf-8", "backslashreplace").splitlines() for t in (out, taken["err"])]
        text[1] = [line for line in text[1] if not re.search(r"==WARNING: .*external symbolizer", line)]  # clang's sanitizer
        return child.returncode, text[0], text[1], usage.ru_maxrss / 1024


def run_transcript(path, text, lampside, root):
    """What went wrong, as text; empty when nothing did."""
    folder = Folder(lampside, root)
    for step in steps_of(path, text):
        code, out, err, mb = folder.run(step.command)
        wrong = []
        if code != step.code:
            wrong.append(f"exit code {code}, not {step.code}")
        if not lines_match(step.out, out, folder.path):
            wrong.append("stdout is not what was written down:\n" + "\n".join("    " + o for o in out))
        if not lines_match(step.err, err, folder.path):
            wrong.append("stderr is not what was written down")
        if step.most_mb is not None and mb > step.most_mb:
            wrong.append(f"took {mb:.0f} MB, more than {step.most_mb}")
        if wrong:
            if err:
                wrong.append("stderr was:\n" + "\n".join("    ! " + e for e in err[:30]))
            return f"{path}:{step.line_number}: $ {step.command}\n  " + "\n  ".join(wrong)
    return ""


def run_examples(lampside, root):
    folder = Folder(lampside, root)
    code, out, err, _ = folder.run("lampside --help")
    commands = re.findall(r"^  ([a-z-]+) {2,}", "\n".join(out).split("Subcommands:")[-1], re.M)
    if code != 0 or len(commands) < 8:
        return f"lampside --help names too few commands: {commands}"
    # What the examples stand on: a kept journal, and a copy of it for restore.
    folder.run("lampside take-in demo/juniper.jsonl --data litters")
    problems = []
    for name in commands:
        code, out, err, _ = folder.run(f"lampside {name} --help")
        example = re.search(r"^Example:\n  (lampside " + name + r"\b.*)$", "\n".join(out), re.M)
        if code != 0 or err or not example:
            problems.append(f"{name} --help: exit code {code}, or no example of it")
            continue
        command = example[1]
        if name in ("serve", "demo"):
            # Stopped as Ctrl-C would; any free port, because tests run side by side.
            command = f"begin {command} --port 0 && end INT && cat served.txt"
        code, out, err, _ = folder.run(command)
        # "simulating pregnancies ..." is what work longer than a second says; how long it takes is the machine's affair.
        err = [line for line in err if not line.endswith(" ...")]
        if code != 0 or err or not out:
            problems.append(f"$ {command}\n  exit code {code}\n" + "\n".join(err))
    return "\n".join(problems)


TWINS = {
    "another line": "$ echo a\nb\n",
    "a line more": "$ echo a; echo b\na\n",
    "a line less": "$ echo a\na\nb\n",
    "no line": "$ echo a\n",
    "another code": "$ exit 1\n",
    "a code expected": "$ true\n-> 1\n",
    "stderr silent": "$ true\n! a\n",
    "stderr not silent": "$ echo a >&2\n",
    "rest after dots": "$ echo a; echo b\n...\na\n",
    "regex": "$ echo a\n{{/[0-9]+/}}\n",
    "memory": "$ python3 -c 'print(len(\"x\" * 300_000_000))'\n300000000\n-> 0 under 100 MB\n",
}
GOOD = "# remark\n$ echo a; echo b >&2; echo $PWD; exit 3\na\n{{tmp}}\n! {{/b+/}}\n-> 3 under 100 MB\n\n$ echo a; \\\n> echo c\n...\nc\n"


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("--lampside", required=True)
    parser.add_argument("--root", required=True)
    parser.add_argument("--examples", action="store_true")
    parser.add_argument("--twin", action="store_true")
    parser.add_argument("files", nargs="*", type=pathlib.Path)
    args = parser.parse_args()
    problems = []
    if args.twin:
        if problem := run_transcript("good", GOOD, args.lampside, args.root):
            problems.append("a right transcript was refused:\n" + problem)
        for name, text in TWINS.items():
            if not run_transcript(name, text, args.lampside, args.root):
                problems.append(f"a wrong transcript passed: {name}")
    if args.examples and (problem := run_examples(args.lampside, args.root)):
        problems.append(problem)
    for path in args.files:
        if problem := run_transcript(path, path.read_text(encoding="utf-8"), args.lampside, args.root):
            problems.append(problem)
    for problem in problems:
        print(problem)
    return 1 if problems else 0


if __name__ == "__main__":
    sys.exit(main())
