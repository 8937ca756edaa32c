"""Reviews of libraries that are made up from a seed, side by side with reading the same files and doing nothing else,
and with two linters for other languages on corpora of the same count and size. All in one run, so that the ratios hold
on any machine.

    cargo build --profile handout --examples --bin headlap
    python3 benches/compare/run.py FOLDER [FILES ...]

FOLDER takes the libraries, the corpora and the results that are kept. FILES are the sizes, by default 1000 25000 100000.
The linters are taken from PATH: `pip install ruff`, `npm install -g oxlint`. One that is not there is left out. Each
figure is the best of five runs, with the page cache warm.
"""

import os
import shutil
import subprocess
import sys
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
BUILT = Path(os.environ.get("CARGO_TARGET_DIR", ROOT / "target")) / "handout"
HEADLAP = BUILT / "headlap"
RUNS = 5


def measure(command, before=lambda: None, runs=RUNS):
    """Wall seconds, processor seconds and peak memory in MB of the quickest run. A peak under that of a Python that has just
    started, some 14 MB, shows as that."""
    best = None
    for _ in range(runs):
        before()
        start = time.monotonic()
        child = subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        _, status, used = os.wait4(child.pid, 0)
        wall = time.monotonic() - start
        if os.waitstatus_to_exitcode(status) not in (0, 1):
            sys.exit(f"{command} could not be run")
        found = (wall, used.ru_utime + used.ru_stime, used.ru_maxrss / 1024)
        best = min(best or found, found)
    return best


def row(what, files, lines, size, figures):
    wall, processor, memory = figures
    print(
        f"{files:>7}  {what:<34} {wall:7.2f} s {processor:7.2f} s {files / wall:>9,.0f} "
        f"{lines / wall:>10,.0f} {size / wall / 1e6:>7.0f} {memory:>6.0f}",
        flush=True,
    )


def library(folder, files):
    place = folder / f"library-{files}"
    if not place.exists():
        subprocess.run([BUILT / "examples/firm_library", place, str(files)], check=True, stdout=subprocess.DEVNULL)
    return place, *extent(place)


def extent(place):
    """Lines and bytes below a folder. No list of files is kept: what this program holds counts as memory of those that it
    starts."""
    lines = size = 0
    for folder, _, names in os.walk(place):
        for name in names:
            text = Path(folder, name).read_bytes()
            lines, size = lines + text.count(b"\n"), size + len(text)
    return lines, size


def linters(folder, files, place):
    for language, program, command in (
        ("python", "ruff", ["ruff", "check", "--no-cache", "--isolated", "--quiet"]),
        ("javascript", "oxlint", ["oxlint"]),
    ):
        if not shutil.which(program):
            print(f"{program} is not there and is left out")
            continue
        corpus = folder / f"{language}-{files}"
        if not corpus.exists():
            subprocess.run([sys.executable, Path(__file__).with_name("corpus.py"), language, place, corpus], check=True)
        row(f"{program}, {language}, cold", files, *extent(corpus), measure([*command, corpus]))


def main(folder, *sizes):
    folder = Path(folder)
    folder.mkdir(parents=True, exist_ok=True)
    kept = folder / "kept"
    print(f"{os.cpu_count()} cores")
    print(f"{'files':>7}  {'what':<34} {'wall':>9} {'cores':>9} {'files/s':>9} {'lines/s':>10} {'MB/s':>7} {'MB':>6}")
    for files in [int(size) for size in sizes] or [1000, 25000, 100000]:
        place, lines, size = library(folder, files)
        review = [HEADLAP, "review", place, "--format", "lines"]
        forget = lambda: shutil.rmtree(kept, ignore_errors=True)
        changed = place / "part-000/detail-000000.detail"

        def change():
            changed.write_text(changed.read_text() + "# looked at again\n")

        row("reading alone", files, lines, size, measure([BUILT / "examples/read_library", place]))
        row("headlap, --no-cache", files, lines, size, measure([*review, "--no-cache"]))
        row("headlap, cold, results kept", files, lines, size, measure([*review, "--cache", kept], forget))
        row("headlap, warm", files, lines, size, measure([*review, "--cache", kept]))
        row("headlap, one file changed", files, lines, size, measure([*review, "--cache", kept], change))
        if files == 25000:
            linters(folder, files, place)


if __name__ == "__main__":
    if len(sys.argv) < 2:
        sys.exit(__doc__)
    main(*sys.argv[1:])
