#!/usr/bin/env python3
"""Reads DXF files back with another program's library (PyPI: ezdxf) and holds them against what was drawn.

    scripts/dxf_check.py FOLDER

The folder holds what `headlap draw examples/millrace --format dxf` wrote.
"""

import sys
from pathlib import Path

import ezdxf


def check(path):
    document = ezdxf.readfile(path)
    audit = document.audit()
    wrong = [f"{path.name}: {error.message}" for error in audit.errors + audit.fixes]
    unit = {1: "in", 4: "mm"}.get(document.header["$INSUNITS"])
    if unit is None:
        wrong.append(f"{path.name}: it has no unit")
    layers = {layer.dxf.name for layer in document.layers}
    lengths = []
    for entity in document.modelspace():
        if entity.dxf.layer not in layers:
            wrong.append(f"{path.name}: {entity.dxf.layer} is no layer of it")
        if entity.dxftype() == "DIMENSION":
            lengths.append(round(entity.get_measurement(), 4))
            told = entity.dxf.text.split(",")[0]
            if told and abs(float(told) - lengths[-1]) > 1e-3:
                wrong.append(f"{path.name}: a length of {lengths[-1]} is told as {told}")
    return wrong, lengths


def main():
    files = sorted(Path(sys.argv[1]).glob("*.dxf"))
    found = {path.name: check(path) for path in files}
    wrong = [words for words, _ in found.values() for words in words]
    if len(files) < 20:
        wrong.append(f"{len(files)} files are not the demo library")
    # The wrap of the board wall laps its flashing tape by 100 mm.
    if 100.0 not in found.get("B1-detail.dxf", ([], []))[1]:
        wrong.append("the lap of 100 mm in B1 does not measure 100 mm")
    print("\n".join(wrong) or f"{len(files)} DXF files were read back without an error")
    sys.exit(bool(wrong))


main()
