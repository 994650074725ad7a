"""./start and ./check before anything is built: asking for packages, and counting tests. Other programs are stood in for."""
import os
import subprocess
import tempfile
import unittest
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent.parent

JUNIT = """<testsuite>
<testcase name="cases" status="{cases}"><system-out>output</system-out></testcase>
<testcase name="script" status="run"/>
<testcase name="crashed" status="fail"><system-out>Segmentation fault</system-out></testcase>
<testcase name="left" status="notrun"><system-out>skipped: no browser here</system-out></testcase>
</testsuite>"""
CASES = """{"testsuites": [{"name": "Weight", "testsuite": [
 {"name": "Reads", "status": "RUN", "result": "COMPLETED"},
 {"name": "Wrong", "status": "RUN", "result": "COMPLETED", "failures": [{"failure": "a.cpp:3\\nwant 1 got 2"}]},
 {"name": "Left", "status": "RUN", "result": "SKIPPED", "skipped": [{"message": "needs R"}]},
 {"name": "Off", "status": "NOTRUN", "result": "SUPPRESSED"}]}]}"""


class Counting(unittest.TestCase):
    def setUp(self):
        self.folder = Path(self.enterContext(tempfile.TemporaryDirectory()))

    def tally(self, *args):
        return subprocess.run([ROOT / "tools/tally.py", self.folder / "tally", *args], capture_output=True, text=True)

    def run_ctest(self, junit, cases=None):
        (self.folder / "r.xml").write_text(junit)
        (self.folder / "reports").mkdir()
        if cases:
            (self.folder / "reports/test_cases.json").write_text(cases)
        self.tally("ctest", "", self.folder / "r.xml", self.folder / "reports")
        return self.tally("end")

    def test_counts_each_case_and_ends_with_the_sum(self):
        end = self.run_ctest(JUNIT.format(cases="fail"), CASES)
        self.assertEqual(end.stdout.splitlines()[-1], "2 passed, 2 failed, 3 skipped")
        self.assertEqual(end.returncode, 1)
        self.assertIn("Failed: cases: Weight.Wrong (want 1 got 2)", end.stdout)
        self.assertIn("Failed: crashed (Segmentation fault)", end.stdout)
        self.assertIn("Skipped: cases: Weight.Left (needs R)", end.stdout)
        self.assertIn("Skipped: left (skipped: no browser here)", end.stdout)

    def test_a_program_that_fails_after_its_cases_passed_is_a_failure(self):
        good = '{"testsuites": [{"name": "W", "testsuite": [{"name": "A", "status": "RUN", "result": "COMPLETED"}]}]}'
        junit = '<testsuite><testcase name="cases" status="fail"><system-out>LeakSanitizer: leak</system-out></testcase></testsuite>'
        self.assertEqual(self.run_ctest(junit, good).stdout.splitlines()[-1], "1 passed, 1 failed")

    def test_a_program_without_cases_is_a_failure(self):
        junit = '<testsuite><testcase name="cases" status="run"/></testsuite>'
        self.assertEqual(self.run_ctest(junit, '{"testsuites": []}').stdout.splitlines()[-1], "0 passed, 1 failed")

    def test_nothing_run_is_a_failure(self):
        self.assertEqual(self.run_ctest("<testsuite/>").stdout.splitlines()[-1], "0 passed, 1 failed")
        (self.folder / "tally").unlink()
        self.assertEqual(self.tally("end").stdout.splitlines()[-1], "0 passed, 1 failed")
        self.assertEqual(self.tally("end").returncode, 1)

    def test_all_well(self):
        self.tally("one", "a", "pass")
        end = self.tally("end")
        self.assertEqual((end.stdout, end.returncode), ("1 passed, 0 failed\n", 0))


class Packages(unittest.TestCase):
    """need_packages, with dpkg-query, apt-get, sudo and id stood in for."""

    def setUp(self):
        self.folder = Path(self.enterContext(tempfile.TemporaryDirectory()))
        (self.folder / "tools").mkdir()
        (self.folder / "tools/packages").write_text("# a note\n[build]\nhave-dev\nwant-dev\ntool tr\n[check]\nother-dev\n")
        self.bin = self.folder / "bin"
        self.bin.mkdir()
        for name in ("bash", "cat", "tail", "touch", "awk", "mkdir", "env", "tr"):
            (self.bin / name).symlink_to(subprocess.run(["which", name], capture_output=True, text=True).stdout.strip())
        self.command("dpkg-query", '[[ ${*: -1} == have-dev ]] && echo "ii " || exit 1')
        self.command("id", "echo 1000")
        self.command("apt-get", """echo "apt-get $*" >>"$LOG"
case " $* " in
  *--print-uris*) [[ -e $LOG.updated || -z $EMPTY ]] || exit 100; echo "'http://x/a.deb' a.deb 2500000 MD5Sum:0" ;;
  *" update "*) touch "$LOG.updated" ;;
  *) exit ${FAILS:-0} ;;
esac""")

    def command(self, name, body):
        path = self.bin / name
        path.write_text(f"#!/bin/bash\n{body}\n")
        path.chmod(0o755)

    def need(self, *sections, yes=1, **env):
        script = f'set -uo pipefail; ROOT={self.folder}; YES={yes}; . {ROOT}/tools/steps.sh; need_packages {" ".join(sections)}; echo done'
        return subprocess.run(["/bin/bash", "-c", script], capture_output=True, text=True, stdin=subprocess.DEVNULL,
                              env={"PATH": str(self.bin), "LOG": str(self.folder / "log"), "EMPTY": "", **env})

    def log(self):
        path = self.folder / "log"
        return path.read_text() if path.exists() else ""

    def test_nothing_missing_needs_no_root_and_no_apt(self):
        self.command("dpkg-query", 'echo "ii "')
        run = self.need("build", "check", yes=0)
        self.assertEqual((run.stdout, run.stderr, self.log()), ("done\n", "", ""))

    def test_without_root_it_says_the_exact_command(self):
        run = self.need("build")
        self.assertEqual((run.returncode, run.stdout, self.log()), (1, "", ""))
        self.assertIn("  apt-get update && apt-get install --no-install-recommends want-dev\n", run.stderr)

    def test_a_command_stands_in_for_its_package(self):
        self.assertNotIn("tool", self.need("build").stderr.split("apt-get install")[1])

    def test_root_is_told_the_size_and_installs(self):
        self.command("id", "echo 0")
        run = self.need("build", "check")
        self.assertEqual(run.stdout, "done\n")
        self.assertIn("Missing: want-dev other-dev", run.stderr)
        self.assertIn("2 MB", run.stderr)
        self.assertRegex(self.log(), r"install --no-install-recommends want-dev other-dev\n$")

    def test_sudo_is_used(self):
        self.command("sudo", 'echo "sudo $*" >>"$LOG"; [[ $1 == -n ]] && shift; "$@"')
        self.assertEqual(self.need("build", PATH=f"{self.bin}:/bin").stdout, "done\n")
        self.assertIn("sudo env DEBIAN_FRONTEND=noninteractive apt-get -q -y", self.log())

    def test_a_sudo_that_wants_a_password_nobody_can_type(self):
        self.command("sudo", "exit 1")
        run = self.need("build")
        self.assertEqual((run.returncode, run.stdout), (1, ""))
        self.assertIn("sudo wants a password", run.stderr)

    def test_without_yes_and_terminal_nothing_is_installed(self):
        self.command("id", "echo 0")
        run = self.need("build", yes=0)
        self.assertEqual((run.returncode, run.stdout), (1, ""))
        self.assertIn("--yes", run.stderr)
        self.assertNotIn("-y -o", self.log())

    def test_empty_lists_are_fetched_first(self):
        self.command("id", "echo 0")
        run = self.need("build", EMPTY="1")
        self.assertEqual(run.stdout, "done\n")
        self.assertIn("apt-get update", self.log())

    def test_a_failing_apt_stops_with_its_log(self):
        self.command("id", "echo 0")
        run = self.need("build", FAILS="7")
        self.assertEqual((run.returncode, run.stdout), (1, ""))
        self.assertIn("apt-get failed", run.stderr)


class Asking(unittest.TestCase):
    def test_help_of_both(self):
        for name in ("start", "check"):
            run = subprocess.run([ROOT / name, "--help"], capture_output=True, text=True)
            self.assertEqual(run.returncode, 0)
            self.assertIn("--yes", run.stdout)

    def test_check_refuses_what_it_does_not_know(self):
        run = subprocess.run([ROOT / "check", "--fast"], capture_output=True, text=True, env={**os.environ})
        self.assertEqual(run.returncode, 2)
        self.assertIn("--fast", run.stderr)


if __name__ == "__main__":
    unittest.main()
