"""The main job of the Windows program under Wine, held against the program of this machine: check.py HEADLAP.EXE HEADLAP.

Paths with backslashes and drives, CRLF, names that are not ASCII or that Windows keeps for devices, kept results, known lists."""
import os
import pathlib
import shutil
import subprocess
import sys
import tempfile

EXE, HERE = (os.path.abspath(path) for path in sys.argv[1:3])
DEMO = pathlib.Path("examples/millrace").resolve()


def run(program, *arguments, at, text=None, **variables):
    """Status, what was written and what was told of one run in the folder `at`."""
    command = ["wine", program] if program == EXE else [program]
    environment = {**os.environ, "NO_COLOR": "1", **variables}
    environment.pop("CI", None)
    done = subprocess.run([*command, *arguments], cwd=at, input=text, capture_output=True, env=environment, timeout=300)
    return done.returncode, done.stdout.decode(), done.stderr.decode()


def same(what, *arguments, at, text=None):
    """Both programs say the same, and the same status is left."""
    there, here = (run(program, *arguments, at=at, text=text)[:2] for program in (EXE, HERE))
    assert there == here, f"{what}:\n--- Windows\n{there[1]}\n--- here\n{here[1]}\nstatus {there[0]} and {here[0]}"
    print(f"  {what}")
    return there


def holds(what, condition, shown):
    assert condition, f"{what}:\n{shown}"
    print(f"  {what}")


work = pathlib.Path(tempfile.mkdtemp())
library = work / "Bücherei – Anbau"
shutil.copytree(DEMO, library)

status, lines = same("the demo library has the same findings", "review", "--no-cache", "--format", "lines", at=library)
holds("its five honest mistakes are found", status == 1 and lines, lines)
for form in ("text", "json", "sarif"):
    same(f"the demo library as {form}", "review", "--no-cache", "--format", form, at=library)
same("its facts", "facts", "--format", "json", at=library)
same("its installation sequence", "sequence", at=library)

for program, folder in ((EXE, "there"), (HERE, "here")):
    out = os.path.relpath(work / folder, library)
    told = run(program, "draw", ".", "--out", out, at=library)
    assert told[0] in (0, 1), told
drawn = {side: {path.name: path.read_bytes() for path in (work / side).rglob("*") if path.is_file()} for side in ("there", "here")}
holds(f"{len(drawn['here'])} drawings are the same", drawn["there"] == drawn["here"] and drawn["here"], sorted(drawn["there"]))

detail = library / "walls.detail"
inside = str(detail.relative_to(library))
slashed = inside.replace("/", "\\")
plain = run(EXE, "review", "--no-cache", "--format", "lines", inside, at=library)[:2]
holds("backslashes name the same file", run(EXE, "review", "--no-cache", "--format", "lines", slashed, at=library)[:2] == plain, slashed)
drive = "Z:" + str(detail).replace("/", "\\")
from_drive = run(EXE, "review", "--no-cache", "--format", "lines", drive, at=work)
holds("a drive names the same file", from_drive[0] == plain[0], from_drive)

crlf = work / "crlf"
shutil.copytree(DEMO, crlf)
for path in crlf.rglob("*.detail"):
    path.write_bytes(path.read_bytes().replace(b"\n", b"\r\n"))
holds("CRLF changes no finding", run(EXE, "review", "--no-cache", "--format", "lines", at=crlf)[:2] == (status, lines), crlf)
before = {path: path.read_bytes() for path in crlf.rglob("*.detail")}
tidied = run(EXE, "tidy", ".", at=crlf)
holds("tidy keeps CRLF", tidied[0] == 0 and before == {path: path.read_bytes() for path in before}, tidied)

kept = work / "kept"
first, second = (run(EXE, "review", "--cache", str(kept), "--format", "lines", at=library) for _ in range(2))
holds("kept results say the same", first[:2] == second[:2] == (status, lines) and any(kept.iterdir()), (first, second))

known = run(EXE, "review", "--write-known", "known.jsonl", at=library)
there = (library / "known.jsonl").read_bytes()
run(HERE, "review", "--write-known", "known.jsonl", at=library)
holds("a known list is the same", known[0] in (0, 1) and there == (library / "known.jsonl").read_bytes(), there)

# Windows keeps such names for devices, with any ending; a drawing of such a detail goes into a file like any other.
device = work / "device"
shutil.copytree(DEMO, device)
walls = (device / "walls.detail").read_text()
(device / "walls.detail").write_text(walls.replace("detail C1 ", "detail con ").replace("detail C2 ", "detail nul "))
drawing = run(EXE, "draw", ".", "--out", "drawn", at=device)
names = sorted(path.name for path in device.rglob("*.svg") if b"<svg" in path.read_bytes())
both = all(any(word in name for name in names) for word in ("con-", "nul-"))
holds("details named like devices are drawn", both, (drawing, names))

started = work / "start"
started.mkdir()
made = run(EXE, "start", ".", at=started)
holds("the starter is written", made[0] == 0 and any(started.rglob("*.detail")), made)
same("the starter has the same findings", "review", "--no-cache", at=started)
same("text from standard input", "review", "-", "--stdin-name", "new.detail", at=library, text=detail.read_bytes())

shutil.rmtree(work)
