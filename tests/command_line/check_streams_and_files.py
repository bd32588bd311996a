"""stdout is data and stderr is talk; files appear complete or not at all; the same bytes come out every time."""
import contextlib
import hashlib
import json
import os
import pty
import shutil
import sqlite3
import subprocess
import unittest

from program_case import PROGRAM, ProgramCase
import recordings


class Streams(ProgramCase):
    def test_names_in_another_encoding_leave_every_output_in_utf8(self):
        odd = self.write("odd.csv", b"time_s,ecg_m\xff\xfeV \x1b[31m\n" + b"".join(b"%.3f,%d\n" % (k / 250, k % 7) for k in range(2500)))
        table = self.run_program("inspect", odd, "--format", "csv", binary=True).decode("utf-8")
        self.assertIn("\ufffd", table)
        self.run_program("inspect", odd, "--format", "json", binary=True).decode("utf-8")
        page = self.run_program("inspect", odd, binary=True).decode("utf-8")
        self.assertIn("\ufffd", page)
        self.assertNotIn("\x1b", page)  # a terminal would obey it
        for command in (["inspect", odd], ["grade", odd], ["target", "--age", "15"]):
            for form in ("text", "csv", "json"):
                more = ["--code", b"wr\xffen"] if command[0] == "target" else []
                self.run_program(*map(os.fsencode, command), *more, "--format", form, binary=True).decode("utf-8")

    def test_no_name_of_a_file_or_column_moves_the_terminal_from_standard_error(self):
        folder = self.path("controls")
        os.makedirs(folder)
        name = "a\x1b[31mb\u009b32m.csv"
        with open(os.path.join(folder, name), "w", encoding="utf-8") as file:
            file.write("time_s,co\u009b31m\n0.00,1\n0.01,x\u009b2\n0.02,1\n")
        for arguments in (["batch", folder], ["beats", os.path.join(folder, name)], ["beats", folder + "/no\x1b[2Jne\x7f"]):
            done = subprocess.run([PROGRAM, *arguments], capture_output=True)
            talk = done.stderr.decode("utf-8")
            self.assertTrue(talk)
            self.assertFalse([c for c in talk if c != "\n" and (ord(c) < 0x20 or 0x7F <= ord(c) <= 0x9F)], talk)

    def test_a_closed_pipe_is_no_error(self):
        long = self.path("long.csv")
        recordings.write_session(long, duration_s=240)
        read_end, write_end = os.pipe()
        os.close(read_end)
        done = subprocess.run([PROGRAM, "intervals", long, "--format", "json"], stdout=write_end, stderr=subprocess.PIPE)
        os.close(write_end)
        self.assertEqual((done.returncode, done.stderr), (0, b""))
        shell = f"set -o pipefail; '{PROGRAM}' intervals '{long}' | head -n 1"
        done = subprocess.run(["bash", "-c", shell], capture_output=True)
        self.assertEqual((done.returncode, done.stdout), (0, b"start_s,end_s,original_ms,verdict,corrected_ms\n"))

    def test_standard_input_gives_what_the_file_gives(self):
        with open(self.session, "rb") as file:
            bytes_of_session = file.read()
        for arguments in [["beats"], ["rate"], ["effort", "--format", "csv", "--age", "15"]]:
            done = subprocess.run([PROGRAM, arguments[0], "-", *arguments[1:]], input=bytes_of_session, capture_output=True)
            self.assertEqual(done.returncode, 0, done.stderr)
            self.assertEqual(done.stdout, self.run_program(arguments[0], self.session, *arguments[1:], binary=True))
        with open(self.session, "rb") as file:  # a redirected file, not a pipe
            done = subprocess.run([PROGRAM, "inspect", "-", "--format", "json"], stdin=file, capture_output=True)
        self.assertEqual(json.loads(done.stdout)["provenance"]["input"], "-")
        self.assertEqual(json.loads(done.stdout)["provenance"]["sha256"], hashlib.sha256(bytes_of_session).hexdigest())
        done = subprocess.run([PROGRAM, "beats", "-"], input=b"", capture_output=True)
        self.assertEqual((done.returncode, done.stderr), (3, b"pulsewright: error: standard input: is empty\n"))
        reference = self.run_program("beats", self.session, binary=True)
        done = subprocess.run([PROGRAM, "compare", "beats", "-", self.session], input=reference, capture_output=True)
        self.assertEqual(done.returncode, 0, done.stderr)

    @unittest.skipUnless(os.path.exists("/dev/full"), "skipped: no /dev/full")
    def test_a_full_disk_is_an_error(self):
        for arguments in [["beats", self.session], ["target", "--age", "15"], ["--help"]]:
            with open("/dev/full", "wb") as full:
                done = subprocess.run([PROGRAM, *arguments], stdout=full, stderr=subprocess.PIPE)
            self.assertEqual(done.returncode, 3, arguments)
            self.assertIn(b"pulsewright: error: ", done.stderr)

    def test_a_closed_standard_output_is_an_error(self):
        done = subprocess.run(["bash", "-c", f"'{PROGRAM}' target --age 15 >&-"], stderr=subprocess.PIPE)
        self.assertEqual(done.returncode, 3)

    def on_terminal(self, *arguments, locale):
        """What the program prints to a terminal under a locale."""
        own, its = pty.openpty()
        surroundings = {key: value for key, value in os.environ.items() if key not in ("LC_ALL", "LC_CTYPE")}
        process = subprocess.Popen([PROGRAM, *arguments], stdout=its, stderr=subprocess.DEVNULL,
                                   env=dict(surroundings, LANG=locale))
        os.close(its)
        printed = b""
        try:
            while piece := os.read(own, 65536):
                printed += piece
        except OSError:  # the other end was closed
            pass
        os.close(own)
        self.assertEqual(process.wait(), 0)
        return printed.decode("utf-8").replace("\r\n", "\n")

    def test_a_terminal_gets_the_course_as_a_line_of_blocks_and_a_pipe_does_not(self):
        for command in [["analyze"], ["rate", "--format", "text"], ["effort", "--age", "15"]]:
            piped = self.run_program(command[0], self.session, *command[1:])
            drawn = self.on_terminal(command[0], self.session, *command[1:], locale="C.UTF-8")
            course, text = drawn.split("\n\n", 1)
            self.assertRegex(course, "^[▁▂▃▄▅▆▇█·]{60}  \\d+ to \\d+ beats/min in \\d+:\\d\\d$")
            self.assertEqual(text, piped)
            self.assertEqual(self.on_terminal(command[0], self.session, *command[1:], locale="C"), piped)
        rows = self.on_terminal("rate", self.session, "--format", "csv", locale="C.UTF-8")
        self.assertEqual(rows, self.run_program("rate", self.session, "--format", "csv"))

    def test_warnings_are_talk(self):
        recordings.write_flat(self.path("flat.csv"))
        self.assertNotIn("warning", self.run_program("beats", self.path("flat.csv"), expect=1))
        self.assertIn("pulsewright: warning: ", self.talk)
        self.assertNotIn("\x1b", self.talk)  # no progress in a pipe


class OutputFolder(ProgramCase):
    FILES = ["analysis.json", "beats.csv", "effort.json", "intervals.csv", "rate.csv", "summary.txt", "variability.json"]

    def test_analyze_writes_its_files_and_says_where(self):
        out = self.path("results", "wren")
        printed = self.run_program("analyze", self.session, "--out", out, "--age", "15")
        self.assertEqual(sorted(os.listdir(out)), self.FILES)
        self.assertIn(out, self.talk)
        with open(os.path.join(out, "summary.txt"), encoding="utf-8") as file:
            self.assertEqual(file.read(), printed)
        for name, command in [("beats.csv", "beats"), ("intervals.csv", "intervals"), ("rate.csv", "rate")]:
            with open(os.path.join(out, name), encoding="utf-8") as file:
                self.assertEqual(file.read(), self.run_program(command, self.session), name)

    def test_a_folder_that_holds_something_is_refused_before_any_work(self):
        out = self.path("taken")
        os.makedirs(out)
        with open(os.path.join(out, "notes.txt"), "w") as file:
            file.write("mine")
        self.assertEqual(self.run_program("analyze", self.session, "--out", out, expect=2), "")
        self.assertEqual(os.listdir(out), ["notes.txt"])
        self.run_program("analyze", self.session, "--out", out, "--overwrite")
        self.assertEqual(sorted(os.listdir(out)), sorted(self.FILES + ["notes.txt"]))
        with open(os.path.join(out, "notes.txt")) as file:
            self.assertEqual(file.read(), "mine")

    def test_an_empty_folder_is_taken_and_a_file_is_not(self):
        os.makedirs(self.path("empty"))
        self.run_program("beats", self.session, "--out", self.path("empty"))
        self.assertEqual(os.listdir(self.path("empty")), ["beats.csv"])
        self.run_program("beats", self.session, "--out", self.session, expect=2)

    def test_the_form_gives_the_suffix(self):
        for form, suffix in [("text", "txt"), ("csv", "csv"), ("json", "json")]:
            out = self.path("form_" + form)
            self.assertEqual(self.run_program("rate", self.session, "--format", form, "--out", out), "")
            self.assertEqual(os.listdir(out), ["rate." + suffix])

    def test_a_failed_input_leaves_no_files(self):
        out = self.path("nothing")
        self.run_program("analyze", self.path("missing.csv"), "--out", out, expect=3)
        self.assertEqual(os.listdir(out) if os.path.isdir(out) else [], [])

    def test_no_half_file_when_space_runs_out(self):
        # A limit on file size stands in for a full disk; the signal that comes with it is ignored as the program would find it.
        out = self.path("small")
        shell = f"trap '' XFSZ; ulimit -f 1; '{PROGRAM}' intervals '{self.session}' --out '{out}'"
        done = subprocess.run(["bash", "-c", shell], capture_output=True)
        self.assertEqual(done.returncode, 3, done.stderr)
        self.assertEqual(os.listdir(out), [])


class OutputFiles(ProgramCase):
    """Of --report, --workings and --database: a file takes the place of nothing but its like."""

    def fail_with(self, code, *arguments):
        self.run_program(*arguments, expect=code)
        return self.talk

    def test_no_input_is_replaced(self):
        copy = shutil.copy(self.session, self.path("own.csv"))
        for option in ("--report", "--workings"):
            self.assertIn("is no page", self.fail_with(2, "analyze", copy, option, copy))
        self.assertIn("is no database", self.fail_with(2, "batch", copy, "--database", copy))
        with open(copy) as kept, open(self.session) as original:
            self.assertEqual(kept.read(), original.read())

    def test_no_list_replaces_anything_and_two_pages_have_two_names(self):
        copy = shutil.copy(self.session, self.path("kept.csv"))
        self.assertIn("is not replaced", self.fail_with(2, "batch", copy, "--list", copy))
        with open(copy) as kept, open(self.session) as original:
            self.assertEqual(kept.read(), original.read())
        self.run_program("batch", copy, "--list", self.path("jobs.jsonl"))
        self.assertIn("name two files", self.fail_with(2, "analyze", copy, "--report", self.path("one.html"),
                                                       "--workings", self.path(".", "one.html")))

    def test_a_log_is_looked_at_before_the_work(self):
        log = self.path("log.csv")
        self.assertIn("is no date", self.fail_with(2, "effort", self.session, "--code", "wren", "--log", log, "--date", "2026-13-45"))
        copy = shutil.copy(self.session, self.path("not_a_log.csv"))
        self.assertEqual(self.run_program("effort", self.session, "--code", "wren", "--log", copy, "--date", "2026-03-02", expect=3), "")
        self.run_program("effort", self.session, "--code", "wren", "--log", log, "--date", "2026-03-02")
        self.assertIn("1 session, 0 of them", self.talk)

    @unittest.skipIf(not os.path.exists("/proc/self/mem"), "skipped: no /proc/self/mem")
    def test_forgetting_names_what_it_cannot_read(self):
        os.makedirs(self.path("odd"), exist_ok=True)
        os.symlink("around.csv", self.path("odd", "around.csv"))
        self.run_program("class", "--forget", "wren", "--within", self.path("odd"), expect=1)
        self.assertIn("around.csv: no file and no folder", self.fail_with(3, "class", "--forget", "wren", "--within", self.path("odd", "around.csv")))
        self.assertIn("cannot be read", self.fail_with(3, "class", "--forget", "wren", "--within", "/proc/self/task"))

    def test_a_report_replaces_a_report_and_a_link_stays_one(self):
        page, link = self.path("page.html"), self.path("link.html")
        self.run_program("analyze", self.session, "--report", page)
        os.symlink("page.html", link)
        first = os.stat(page).st_ino
        self.run_program("analyze", self.session, "--report", link)
        self.assertTrue(os.path.islink(link))
        self.assertNotEqual(os.stat(page).st_ino, first)

    def test_no_pipe_is_replaced(self):
        pipe = self.path("pipe")
        os.mkfifo(pipe)
        for arguments in (("analyze", self.session, "--report", pipe), ("batch", self.session, "--database", pipe)):
            self.assertIn("a device or a pipe", self.fail_with(2, *arguments))

    def test_a_database_of_others_is_kept(self):
        file = self.path("theirs.sqlite")
        with contextlib.closing(sqlite3.connect(file)) as database:
            database.execute("CREATE TABLE theirs (a)")
            database.commit()
        self.assertIn("another database", self.fail_with(2, "batch", self.session, "--database", file))
        both = self.path("both")
        self.assertIn("files of their own", self.fail_with(2, "batch", self.session, "--database", both, "--report", both))


class TimesOfLists(ProgramCase):
    def test_beats_that_count_from_1970_are_refused(self):
        file = self.write("epoch.csv", "time_s\n" + "".join(f"{1760000000 + 0.8 * k + 0.01 * (k % 3):.3f}\n" for k in range(60)))
        self.run_program("rate", "--input", "beats", file, expect=3)
        self.assertIn("more than 60 days after the start", self.talk)

    def test_rates_are_read_in_the_unit_that_their_time_states(self):
        row = lambda k, time: f"{time},{120 + k % 5}\n"
        tables = {"s": "time_s,bpm\n" + "".join(row(k, 2 * k) for k in range(300)),
                  "ms": "time_ms,bpm\n" + "".join(row(k, 2000 * k) for k in range(300))}
        texts = set()
        for name, table in tables.items():
            os.makedirs(self.path(name))
            file = self.write(f"{name}/rates.csv", table)
            texts.add(self.run_program("effort", "--input", "rates", file, "--age", "15", "--resting", "66"))
        self.assertEqual(len(texts), 1, texts)
        both = self.write("both.csv", "start_s,end_s,time_ms,bpm\n" + "".join(f"{8 * k},{8 * k + 8},{8000 * k},70\n" for k in range(75)))
        self.assertIn("10:00 long", self.run_program("effort", "--input", "rates", both, "--age", "15", "--resting", "66"))
        epoch = self.write("epoch_rates.csv", "time_s,bpm\n" + "".join(row(k, 1760000000 + 2 * k) for k in range(300)))
        self.assertIn("10:00 long", self.run_program("effort", "--input", "rates", epoch, "--age", "15", "--resting", "66"))
        self.assertIn("[counted_from_first_row]", self.talk)


class SameBytes(ProgramCase):
    COMMANDS = [["beats"], ["beats", "--kind", "pulse"], ["intervals"], ["rate"], ["analyze", "--format", "json", "--age", "15"]]

    def outputs(self, env=None):
        return [self.run_program(command, self.session, *options, env=env, binary=True) for command, *options in self.COMMANDS]

    def test_a_second_run_gives_the_same_bytes(self):
        self.assertEqual(self.outputs(), self.outputs())

    def test_a_comma_locale_in_the_environment_changes_nothing(self):
        if shutil.which("localedef") is None:
            self.skipTest("skipped: no localedef")
        made = subprocess.run(["localedef", "-i", "de_DE", "-f", "UTF-8", self.path("de_DE.UTF-8")], capture_output=True)
        if not os.path.isdir(self.path("de_DE.UTF-8")):
            self.skipTest("skipped: cannot make de_DE: " + made.stderr.decode())
        env = {"LOCPATH": self.folder, "LC_ALL": "de_DE.UTF-8", "LANG": "de_DE.UTF-8"}
        check = subprocess.run(["bash", "-c", "printf '%.1f' 1,5"], capture_output=True, env=dict(os.environ, **env))
        self.assertEqual(check.stdout, b"1,5", "the locale is not in effect")
        self.assertEqual(self.outputs(env), self.outputs())
        self.assertIn("2.5", self.run_program("rate", self.session, "--step", "2.5", env=env))

    def test_a_machine_without_wide_vector_instructions_gives_the_same_bytes(self):
        tunables = "glibc.cpu.hwcaps=-AVX2,-FMA,-AVX2_Usable,-FMA_Usable,-AVX512F"
        loader = "/lib64/ld-linux-x86-64.so.2"
        if not os.path.exists(loader):
            self.skipTest("skipped: not glibc on x86-64")
        listing = subprocess.run([loader, "--list-diagnostics"], capture_output=True, env=dict(os.environ, GLIBC_TUNABLES=tunables))
        plain = subprocess.run([loader, "--list-diagnostics"], capture_output=True)
        active = lambda text: [line for line in text.splitlines() if b"active" in line or b"usable" in line]
        if listing.returncode != 0 or active(listing.stdout) == active(plain.stdout):
            self.skipTest("skipped: this C library does not let the instructions be switched off")
        self.assertEqual(self.outputs({"GLIBC_TUNABLES": tunables}), self.outputs())


if __name__ == "__main__":
    unittest.main()
