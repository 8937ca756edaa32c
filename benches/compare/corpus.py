"""Writes a corpus of clean Python or JavaScript files: as many, and as large, as the files of a library.

    python3 corpus.py python|javascript LIBRARY FOLDER

Each file of LIBRARY gives one of FOLDER with as many bytes, within a line, and about as many lines. What the files say
comes from a seed, so that a second run writes the same. They are clean under the rules that the linters start with.
"""

import random
import sys
from pathlib import Path

WORDS = "wall sheet board tape lap course corner seam ledger sill head jamb rake eave deck joist stud band bead cap".split()


def name(rng):
    return f"{rng.choice(WORDS)}_{rng.choice(WORDS)}_{rng.randrange(1000)}"


def chosen(rng):
    """The names of a function, its two parameters and its list, and two numbers."""
    return *(name(rng) for _ in range(4)), rng.randrange(10, 90), rng.randrange(100, 900)


def python(rng, number):
    if number == 0:
        return '"""Parts of a wall, and what they measure."""\n\nimport math\n'
    fn, a, b, total, low, high = chosen(rng)
    return f'''

def {fn}_{number}({a}, {b}):
    """The {a} of a {b}, in millimetres."""
    {total} = []
    for step in range({low}, {high}):
        if step % {low} == 0 and step < {b}:
            {total}.append(math.sqrt(step * {a}))
        elif step > {high - 7}:
            {total}.append(step - {a})
    return {{"least": min({total}), "most": max({total}), "count": len({total})}}
'''


def javascript(rng, number):
    if number == 0:
        return "// Parts of a wall, and what they measure.\n"
    fn, a, b, total, low, high = chosen(rng)
    return f'''
/** The {a} of a {b}, in millimetres. */
export function {fn}_{number}({a}, {b}) {{
  const {total} = [];
  for (let step = {low}; step < {high}; step += 1) {{
    if (step % {low} === 0 && step < {b}) {{
      {total}.push(Math.sqrt(step * {a}));
    }} else if (step > {high - 7}) {{
      {total}.push(step - {a});
    }}
  }}
  return {{ least: Math.min(...{total}), most: Math.max(...{total}), count: {total}.length }};
}}
'''


def file(part, size, seed):
    rng, text, number = random.Random(seed), "", 0
    while len(text) < size:
        text += part(rng, number)
        number += 1
    return text


def main(language, library, folder):
    part, ending = {"python": (python, ".py"), "javascript": (javascript, ".js")}[language]
    library, folder = Path(library), Path(folder)
    for seed, source in enumerate(sorted(library.rglob("*.detail"))):
        target = folder / source.relative_to(library).with_suffix(ending)
        target.parent.mkdir(parents=True, exist_ok=True)
        # On average the last part is half too long.
        target.write_text(file(part, max(source.stat().st_size - 250, 100), seed))


if __name__ == "__main__":
    main(*sys.argv[1:])
