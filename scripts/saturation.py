#!/usr/bin/env python3
"""Writes tests/physics/saturation.toml: saturation pressures and dew points of two reference libraries.

    pip install psychrolib==2.5.0 iapws==1.5.5
    python3 scripts/saturation.py > tests/physics/saturation.toml

psychrolib computes the equations of the ASHRAE Handbook of Fundamentals 2017, chapter 1 (equations 5 and 6: over ice
below the triple point, over water above it). iapws computes IAPWS-IF97 above 0 C and the IAPWS sublimation equation of
2011 below. Their water routines run on as undercooled water below 0 C; this script asks for ice there.
"""

from importlib.metadata import version

import iapws
import iapws._iapws
import iapws.iapws97
import psychrolib

psychrolib.SetUnitSystem(psychrolib.SI)


def iapws_saturation(celsius: float) -> float:
    kelvin = celsius + 273.15
    if celsius < 0:
        return iapws._iapws._Sublimation_Pressure(kelvin) * 1e6
    return iapws.iapws97._PSat_T(kelvin) * 1e6


print("# Made by scripts/saturation.py; do not edit.")
print(f'libraries = ["psychrolib {version("psychrolib")}", "iapws {version("iapws")}"]')
print("\n# Temperature C, saturation pressure Pa by psychrolib and by iapws")
print("saturation = [")
for celsius in range(-40, 61, 5):
    # psychrolib changes from ice to water at the triple point, 0.01 C; at 0 C itself it still takes ice.
    ashrae = psychrolib.GetSatVapPres(float(celsius))
    print(f"  [{celsius}, {ashrae:.3f}, {iapws_saturation(celsius):.3f}],")
print("]")
print("\n# Temperature C, relative humidity, dew point (frost point below 0 C) C by psychrolib")
print("dew_point = [")
for celsius in (-20, -10, 5, 12, 20, 25, 30, 40, 50):
    for humidity in (0.2, 0.5, 0.8, 0.95):
        dew = psychrolib.GetTDewPointFromRelHum(float(celsius), humidity)
        print(f"  [{celsius}, {humidity}, {dew:.3f}],")
print("]")
