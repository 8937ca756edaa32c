#!/usr/bin/env python3
"""Packs the program for pip, and folders as archives: the same bytes for the same commit.

wheel.py wheel FOLDER PROGRAM VERSION PLATFORM    a wheel that installs the program beside pip's other programs
wheel.py archive FILE.zip FOLDER                  a folder as an archive
"""
import base64
import hashlib
import os
import sys
import time
import zipfile

# Archives know no time before 1980.
TIME = time.gmtime(max(int(os.environ.get("SOURCE_DATE_EPOCH", "0")), 315532800))[:6]


def put(archive, name, data, mode=0o644):
    entry = zipfile.ZipInfo(name, TIME)
    entry.external_attr = (0o100000 | mode) << 16
    entry.compress_type = zipfile.ZIP_DEFLATED
    archive.writestr(entry, data)


def wheel(folder, program, version, platform):
    tag = f"py3-none-{platform}"
    path = os.path.join(folder, f"headlap-{version}-{tag}.whl")
    info = f"headlap-{version}.dist-info"
    readme = open(os.path.join(os.path.dirname(__file__), "..", "README.md"), encoding="utf-8").read()
    tags = "".join(f"Tag: py3-none-{one}\n" for one in platform.split("."))
    files = {
        f"headlap-{version}.data/scripts/{os.path.basename(program)}": open(program, "rb").read(),
        f"{info}/METADATA": (
            f"Metadata-Version: 2.1\nName: headlap\nVersion: {version}\n"
            "Summary: Checks wall and interface details written as plain text\n"
            "License: MIT OR Apache-2.0\nDescription-Content-Type: text/markdown\n\n" + readme
        ).encode(),
        f"{info}/WHEEL": f"Wheel-Version: 1.0\nGenerator: headlap\nRoot-Is-Purelib: false\n{tags}".encode(),
    }
    record = f"{info}/RECORD"
    rows = []
    for name, data in files.items():
        digest = base64.urlsafe_b64encode(hashlib.sha256(data).digest()).rstrip(b"=").decode()
        rows.append(f"{name},sha256={digest},{len(data)}\n")
    files[record] = ("".join(rows) + f"{record},,\n").encode()
    with zipfile.ZipFile(path, "w") as archive:
        for name, data in files.items():
            put(archive, name, data, 0o755 if ".data/scripts/" in name else 0o644)
    print(path)


def archive(path, folder):
    top = os.path.dirname(os.path.abspath(folder))
    with zipfile.ZipFile(path, "w") as out:
        names = [os.path.join(place, name) for place, _, names in os.walk(folder) for name in names]
        for name in sorted(names):
            put(out, os.path.relpath(name, top).replace(os.sep, "/"), open(name, "rb").read())
    print(path)


if __name__ == "__main__":
    {"wheel": wheel, "archive": archive}[sys.argv[1]](*sys.argv[2:])
