"""Reads a real weather file out of an older pvlib wheel by pvlib's own reader.

Input: {"wheel": path of the wheel, "file": name of a file in its data folder, "out": folder to put it in, "year": calendar year the hours are filed under}.
Output: "path" of the file taken out; hourly lists of air_c, dew_point_c, humidity (per cent), pressure_pa, wind_m_s, wind_from_deg, global, direct and diffuse
(W/m2); twelve monthly means of each under "means", made with pandas; of an EPW file "wet_hours", for each day how many of its observations of present
weather saw rain, drizzle, snow, showers or sleet (digits 2 to 6 of the code are not 9).
"""

import csv
import json
import pathlib
import sys
import zipfile

import numpy as np
import pandas as pd
from pvlib import iotools

asked = json.load(sys.stdin)
path = pathlib.Path(asked["out"]) / asked["file"]
if not path.exists():
    with zipfile.ZipFile(asked["wheel"]) as wheel:
        path.write_bytes(wheel.read("pvlib/data/" + asked["file"]))

if path.suffix.lower() == ".epw":
    data, _ = iotools.read_epw(path, coerce_year=asked["year"])
    names = {
        "air_c": "temp_air", "dew_point_c": "temp_dew", "humidity": "relative_humidity", "pressure_pa": "atmospheric_pressure",
        "wind_m_s": "wind_speed", "wind_from_deg": "wind_direction", "global": "ghi", "direct": "dni", "diffuse": "dhi",
    }
    scale = {}
else:
    data, _ = iotools.read_tmy3(path, coerce_year=asked["year"], map_variables=True)
    names = {
        "air_c": "temp_air", "dew_point_c": "temp_dew", "humidity": "relative_humidity", "pressure_pa": "pressure",
        "wind_m_s": "wind_speed", "wind_from_deg": "wind_direction", "global": "ghi", "direct": "dni", "diffuse": "dhi",
    }
    scale = {"pressure_pa": 100.0}

answer = {"path": str(path), "means": {}}
# The rows stand in calendar order from the first hour of January; twelve months of a common year.
lengths = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31]
months = np.repeat(np.arange(12), np.array(lengths) * 24)
for ours, theirs in names.items():
    values = data[theirs].to_numpy(dtype=float) * scale.get(ours, 1.0)
    assert len(values) == len(months), f"{len(values)} rows"
    values = np.where(values <= -9900, np.nan, values)
    answer[ours] = [None if np.isnan(v) else float(v) for v in values]
    grouped = pd.Series(values).groupby(months)
    means = grouped.mean()
    answer["means"][ours] = [None if np.isnan(v) else float(v) for v in means]
if path.suffix.lower() == ".epw":
    with open(path, encoding="latin-1", newline="") as file:
        rows = [row for row in csv.reader(file)][8:]
    answer["wet_hours"] = [0] * (len(rows) // 24)
    for index, row in enumerate(rows):
        if row[26].strip() == "0" and any(digit != "9" for digit in row[27].strip().zfill(9)[1:6]):
            answer["wet_hours"][index // 24] += 1
json.dump(answer, sys.stdout)
