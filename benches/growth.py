"""What grows faster than its input: each kind of input at a size and at twice that, with shapes that nobody files by intent.

    cargo build --release
    python3 benches/growth.py [HEADLAP]

Each figure is the least processor time of three runs, without that of a start over one empty file. What is linear shows a
ratio of 2, what is quadratic one of 4. Nothing here is to stay above 3, unless it ends at a refusal.
"""

import os
import subprocess
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
HEADLAP = Path(sys.argv[1] if len(sys.argv) > 1 else ROOT / "target/release/headlap").resolve()
RUNS = 3
REVIEW = ["review", ".", "--no-cache", "--format", "sarif"]
HEAD = 'include "stock.detail"\nassembly W wall { outside; layer wrap-open controls water, air; layer plywood 12 mm; inside }\n'


def detail(name, body):
    return f"detail {name} course joins W {{\n{body}}}\n"


def one(text):
    return {"a.detail": text}


def rows(count, row):
    return "".join(row(n) for n in range(count))


def stacked(count, letter="p"):
    return rows(count, lambda n: f"  piece {letter}{n} wrap-open of W up {100 * n} mm to {100 * n + 250} mm\n")


def short_laps(count, letter="d"):
    body = "  piece upper wrap-open of W up from 0 mm\n  piece lower wrap-open of W up to 20 mm\n"
    return rows(count, lambda n: detail(f"{letter}{n}", body))


def with_rule(needs, says, details):
    rule = (
        f"[[rule]]\nid = 'own'\ntitle = 'Own'\nlevel = 'note'\nabout = 'piece'\nneeds = '{needs}'\nsays = '{says}'\n"
        "[[rule.basis]]\nknown = 'practice'\n"
    )
    return {"firm/own.toml": rule, "headlap.toml": 'rules = ["firm"]\n', "a.detail": HEAD + details}


def linked(count, leads):
    def file(n):
        include = f'include "{leads(n)}.detail"\n' if leads(n) is not None else ""
        return f"{include}material m{n} sheet {{ holds water; mu 5 }}\n"

    return {f"{n}.detail": file(n) for n in range(count)}


def fastenings_by_tapes(count):
    tapes = rows(count, lambda n: f"  piece t{n} acrylic-tape up {100 * n} mm to {100 * n + 75} mm bonds base rolled\n")
    nails = rows(count, lambda n: f"  fasten base with cap-nail every 300 mm up from {100 * n + 20} mm\n")
    return one(HEAD + detail("D", f"  piece base wrap-open of W up 0 mm to 100 m\n{tapes}{nails}"))


def pans(count):
    pan = rows(count, lambda n: f"  piece p{n} aluminum-flashing as pan up {100 * n} mm to {100 * n + 50} mm\n")
    return one(HEAD + detail("D", pan))


def layers(count):
    layer = rows(count, lambda n: f"  layer plywood 1 mm as l{n}\n")
    return one(f'include "stock.detail"\nassembly A existing {{\n  outside\n{layer}  inside\n}}\n')


def one_long_line(count):
    return one(HEAD + detail("D", stacked(count)).replace("\n", ";").replace("{;", "{", 1))


def adjusted_folders(count):
    adjust = rows(
        count, lambda n: f'[[folder]]\npath = "d{n}"\n[folder.adjust.short-head-lap]\noff = true\nbecause = "x"\n'
    )
    return {"headlap.toml": adjust} | {f"d{n}/a.detail": HEAD for n in range(count)}


def renamed(body):
return lambda count: {f"{side}/a.detail": HEAD + body(count, letter) for side, letter in (("i", "d"), ("s", "e"))}


def nested(depth):
    needs = "index >= 0"
    for _ in range(depth):
        needs = f"all(detail.pieces, {needs})"
    return lambda count: with_rule(needs, "{piece}", detail("D", stacked(count)))


def projects(count):
    library = {path.name: path.read_text() for path in (ROOT / "examples/millrace").glob("*.detail")}
    return {f"p{n}/{name}": text for n in range(count) for name, text in library.items()}


COMPARE = ["compare", "i", "s"]
KNOWN = ["review", ".", "--no-cache", "--known", "known.jsonl", "--format", "lines"]

# The kind of input, the smaller size, its files, and what is run over them.
KINDS = [
    ("pieces of one detail, stacked", 250, lambda n: one(HEAD + detail("D", stacked(n))), REVIEW),
    ("pans of one detail", 1000, pans, REVIEW),
    ("fastenings and as many tapes", 200, fastenings_by_tapes, REVIEW),
    ("layers of one assembly", 50, layers, REVIEW),
    ("details of one file", 2000, lambda n: one(HEAD + rows(n, lambda d: detail(f"d{d}", stacked(3)))), REVIEW),
    ("findings in one file", 2000, lambda n: one(HEAD + short_laps(n)), REVIEW),
    ("columns of one line", 250, one_long_line, REVIEW),
    ("pieces told in a sentence", 250, lambda n: with_rule("index < 0", "one of {detail.pieces}", detail("D", stacked(n))), REVIEW),
    ("pieces under a rule of two lists", 200, nested(1), REVIEW),
    ("includes in a chain", 1000, lambda n: linked(n, lambda at: at + 1 if at + 1 < n else None), REVIEW),
    ("includes in a ring", 200, lambda n: linked(n, lambda at: (at + 1) % n), REVIEW),
    ("includes that lead nowhere", 1000, lambda n: {f"{at}.detail": f'include "{at}x.detail"\n' for at in range(n)}, REVIEW),
    ("folders with adjustments", 25, adjusted_folders, REVIEW),
    ("projects with sets", 300, projects, REVIEW),
    ("known findings, details renamed", 2000, lambda n: one(HEAD + short_laps(n)), KNOWN),
    ("pieces renamed and compared", 250, renamed(lambda n, letter: detail("D", stacked(n, letter))), COMPARE),
    ("details renamed and compared", 500, renamed(short_laps), COMPARE),
]


def run(folder, command):
    with subprocess.Popen([HEADLAP, *command], cwd=folder, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL) as child:
        _, status, used = os.wait4(child.pid, 0)
        child.returncode = os.waitstatus_to_exitcode(status)
    if child.returncode not in (0, 1, 2):
        sys.exit(f"{command} ended with {child.returncode}")
    return used.ru_utime + used.ru_stime, used.ru_maxrss / 1024


def write(folder, files):
    for name, text in files.items():
        path = Path(folder, name)
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text)


def measured(files, command):
    """The least processor time, and the memory of that run in MB."""
    with tempfile.TemporaryDirectory() as folder:
        write(folder, files)
        if "--known" in command:
            run(folder, ["review", ".", "--no-cache", "--write-known", "known.jsonl"])
            write(folder, {name: text.replace("detail d", "detail e") for name, text in files.items()})
        return min(run(folder, command) for _ in range(RUNS))


def main():
    start, _ = measured(one(""), REVIEW)
    print(f"a start over one empty file: {start * 1000:.0f} ms of processor time\n")
    print(f"{'kind of input':<34} {'size':>6} {'time':>9} {'doubled':>9} {'ratio':>6} {'memory':>8}")
    for kind, size, files, command in KINDS:
        (least, _), (doubled, memory) = measured(files(size), command), measured(files(2 * size), command)
        least, doubled = least - start, doubled - start
        ratio = f"{doubled / least:6.1f}" if least > 0.005 else "     -"
        print(f"{kind:<34} {size:>6} {least:7.3f} s {doubled:7.3f} s {ratio} {memory:5.0f} MB", flush=True)


if __name__ == "__main__":
    main()
