#!/usr/bin/env python3
"""Writes rules/climates/*.detail: monthly means of the hourly typical years that the pvlib distributions carry.

    pip download --no-deps pvlib==0.16.1
    pip download --no-deps --no-binary pvlib pvlib==0.16.1
    python3 scripts/climates.py pvlib-0.16.1-py3-none-any.whl pvlib-0.16.1.tar.gz rules/climates

Python's standard library is all it needs. Temperature is the plain mean of the hours. Relative humidity is the mean
vapor pressure of the hours over the saturation pressure of the mean temperature: condensation is reckoned from vapor
pressures, and a plain mean of relative humidity would not give the month's mean pressure back, as the air is most humid
when it is coldest. Hourly relative humidity is taken over liquid water at every temperature, as weather stations report
it (WMO-No. 8); the monthly figure is over ice below 0 C, as ISO 13788 reads it, and 100 % at most.
"""

import csv
import hashlib
import math
import sys
import tarfile
import textwrap
import zipfile
from dataclasses import dataclass, field
from pathlib import Path

MONTHS = "jan feb mar apr may jun jul aug sep oct nov dec".split()

NREL_TERMS = (
    "the file states none. It was made by the National Renewable Energy Laboratory for the US Department of Energy, which "
    "gives such data away for any use with acknowledgment and without warranty (from memory, not checked against the text); "
    "pvlib, which carries it, is under the BSD 3-clause license."
)
PVGIS_TERMS = (
    'the file states "PVGIS (c) European Union, 2001-2025". The Commission lets its data be reused if the source is named '
    "(Decision 2011/833/EU, from memory); pvlib, whose source distribution carries it, is under the BSD 3-clause license."
)
COOLED = "a heated and cooled room; the figures are ours (practice): change them to those of the building."
HEATED = "a dwelling with few people, heated and not cooled (ISO 13788 humidity class 3); change it to that of the building."


@dataclass
class Site:
    name: str
    title: str
    zone: str | None
    indoor: str
    room: str
    member: str
    source: str
    terms: str


SITES = [
    Site(
        "greensboro-4a", "Greensboro, North Carolina, TMY3", "4A", "indoor 21 C 50 %", COOLED, "723170TYA.CSV",
        "TMY3, station 723170 Greensboro Piedmont Triad International Airport, 36.100 N 79.950 W, 273 m", NREL_TERMS,
    ),
    Site(
        "miami-1a", "Miami, Florida, TMY2", "1A", "indoor 24 C 50 %", COOLED, "12839.tm2",
        "TMY2, station WBAN 12839 Miami, 25.80 N 80.27 W, 2 m", NREL_TERMS,
    ),
    Site(
        "sand-point-7", "Sand Point, Alaska, TMY3", "7", "indoor class 3", HEATED, "703165TY.csv",
        "TMY3, station 703165 Sand Point, 55.317 N 160.517 W, 7 m", NREL_TERMS,
    ),
    Site(
        "po-valley", "Po valley, Italy, 45 N 8 E, PVGIS", None, "indoor class 3", HEATED, "tmy_45.000_8.000_2005_2023.csv",
        "PVGIS typical year chosen from 2005 to 2023, 45.000 N 8.000 E, 250 m", PVGIS_TERMS,
    ),
]


@dataclass
class Hours:
    """One typical month."""

    years: set[int] = field(default_factory=set)
    temperature: list[float] = field(default_factory=list)
    pressure: list[float] = field(default_factory=list)


def over_water(t: float) -> float:
    """Saturation pressure over liquid water, Pa, also below 0 C (ISO 13788, E.1)."""
    return 610.5 * math.exp(17.269 * t / (237.3 + t))


def saturation(t: float) -> float:
    """Saturation pressure over water or ice, Pa (ISO 13788, E.1 and E.2)."""
    return over_water(t) if t >= 0 else 610.5 * math.exp(21.875 * t / (265.5 + t))


def tmy3_rows(text: str):
    """Hours end at the time given: 24:00 belongs to its date."""
    for row in csv.DictReader(text.splitlines()[1:]):
        month, _, year = row["Date (MM/DD/YYYY)"].split("/")
        yield int(year), int(month), float(row["Dry-bulb (C)"]), float(row["RHum (%)"])


def tmy2_rows(text: str):
    """Columns of fixed width: 2-3 year, 4-5 month, 68-71 dry bulb in tenths, 80-82 relative humidity."""
    for line in text.splitlines()[1:]:
        yield 1900 + int(line[1:3]), int(line[3:5]), int(line[67:71]) / 10, float(line[79:82])


def pvgis_rows(text: str):
    lines = text.splitlines()
    head = next(i for i, line in enumerate(lines) if line.startswith("time(UTC)"))
    for row in csv.DictReader(lines[head:]):
        if not row["T2m"]:
            return  # the legend below the table
        time = row["time(UTC)"]
        yield int(time[:4]), int(time[4:6]), float(row["T2m"]), float(row["RH"])


def rows(member: str, text: str):
    if member.endswith(".tm2"):
        return tmy2_rows(text)
    return pvgis_rows(text) if member.startswith("tmy_") else tmy3_rows(text)


def months(member: str, text: str) -> list[Hours]:
    result = [Hours() for _ in MONTHS]
    for year, month, temperature, humidity in rows(member, text):
        if not (-80 <= temperature <= 60 and 0 <= humidity <= 100):
            sys.exit(f"{member}: {temperature} C {humidity} % is no reading")
        hours = result[month - 1]
        hours.years.add(year)
        hours.temperature.append(temperature)
        hours.pressure.append(humidity / 100 * over_water(temperature))
    counts = [len(hours.temperature) for hours in result]
    if counts != [24 * days for days in (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)]:
        sys.exit(f"{member}: not a full year of hours: {counts}")
    return result


def mean(values: list[float]) -> float:
    return math.fsum(values) / len(values)


def detail(site: Site, data: bytes) -> str:
    year = months(site.member, data.decode("ascii"))
    chosen = ", ".join(f"{name} {'/'.join(map(str, sorted(h.years)))}" for name, h in zip(MONTHS, year))
    head = [
        f"{site.title}: monthly means.",
        f"Source: {site.source}; file {site.member} of pvlib 0.16.1, SHA-256 {hashlib.sha256(data).hexdigest()}.",
        f"Years of the typical months: {chosen}.",
        f"Terms: {site.terms}",
        *([f"Zone: {site.zone} by the county tables of ASHRAE 169 and the IECC (from memory)."] if site.zone else []),
        f"Room: {site.room}",
        "Made by scripts/climates.py: mean temperature, and mean vapor pressure as relative humidity at that temperature.",
    ]
    lines = [line for part in head for line in textwrap.wrap(part, 116, initial_indent="# ", subsequent_indent="#   ")]
    lines += ["", f'climate {site.name} "{site.title}" {{']
    lines += [f"  zone {site.zone}"] if site.zone else []
    lines.append(f"  {site.indoor}")
    weather = site.source.split(",")[0].split(" chosen")[0]
    room = "heated and cooled" if site.room == COOLED else "a dwelling with few people"
    lines.append(f'  source "{weather}; room: {room}, practice"')
    for name, hours in zip(MONTHS, year):
        temperature = mean(hours.temperature)
        humidity = min(100 * mean(hours.pressure) / saturation(temperature), 100)
        lines.append(f"  outdoor {name} {temperature:.1f} C {humidity:.1f} %")
    return "\n".join(lines + ["}", ""])


def read(member: str, wheel: str, source: str) -> bytes:
    with zipfile.ZipFile(wheel) as archive:
        for name in archive.namelist():
            if name.endswith("/" + member):
                return archive.read(name)
    with tarfile.open(source) as archive:
        for entry in archive:
            if entry.name.endswith("/" + member):
                return archive.extractfile(entry).read()
    sys.exit(f"{member} is in neither {wheel} nor {source}")


def main() -> None:
    if len(sys.argv) != 4:
        sys.exit(__doc__)
    wheel, source, folder = sys.argv[1:]
    for site in SITES:
        Path(folder, site.name + ".detail").write_text(detail(site, read(site.member, wheel, source)))


if __name__ == "__main__":
    main()
