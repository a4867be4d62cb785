"""Sun and radiation by pvlib.

Input: {"places": [[unix seconds, latitude, longitude, elevation in m], ...],
"faces": [[global, direct, diffuse (W/m2), zenith, azimuth (degrees), extraterrestrial (W/m2), bearing of the face (degrees), ground reflectance], ...],
"splits": [[global, zenith, day of the year], ...], "days": [[unix seconds of a midnight UTC, latitude, longitude], ...] (may be left out)}.
Output: for each place and time the true and the apparent zenith and the azimuth by spa_python (pressure 101325 Pa, 12 C) with the delta T given back; for each
face the sum of beam, sky and ground with an isotropic sky and after Hay and Davies; for each split diffuse, direct, the extraterrestrial radiation after
Spencer (solar constant 1366.1) and the clear-sky radiation after Haurwitz; for each day hours from its midnight to sunrise and sunset by the algorithm of Reda and Andreas.
"""

import json
import sys

import numpy as np
import pandas as pd
from pvlib import clearsky, irradiance, solarposition, spa

asked = json.load(sys.stdin)

places = {"zenith": [], "apparent_zenith": [], "azimuth": [], "delta_t": []}
for seconds, latitude, longitude, elevation in asked["places"]:
    time = pd.DatetimeIndex([pd.Timestamp(seconds, unit="s", tz="UTC")])
    delta_t = float(spa.calculate_deltat(time.year.values.astype(float), time.month.values.astype(float))[0])
    sun = solarposition.spa_python(time, latitude, longitude, altitude=elevation, pressure=101325, temperature=12, delta_t=delta_t)
    for key in ("zenith", "apparent_zenith", "azimuth"):
        places[key].append(float(sun[key].iloc[0]))
    places["delta_t"].append(delta_t)

faces = {"isotropic": [], "hay_davies": []}
for ghi, dni, dhi, zenith, azimuth, extra, bearing, albedo in asked["faces"]:
    beam = irradiance.beam_component(90.0, bearing, zenith, azimuth, dni)
    ground = irradiance.get_ground_diffuse(90.0, ghi, albedo)
    faces["isotropic"].append(float(beam + irradiance.isotropic(90.0, dhi) + ground))
    sky = irradiance.haydavies(90.0, bearing, dhi, dni, extra, zenith, azimuth)
    faces["hay_davies"].append(float(beam + sky + ground))

ghi, zenith, day = np.array(asked["splits"]).T
split = irradiance.erbs(ghi, zenith, day.astype(int))
splits = {
    "diffuse": split["dhi"].tolist(),
    "direct": split["dni"].tolist(),
    "extraterrestrial": np.asarray(irradiance.get_extra_radiation(day.astype(int), method="spencer", solar_constant=1366.1)).tolist(),
    "clear": clearsky.haurwitz(pd.Series(zenith))["ghi"].tolist(),
}

days = {"sunrise_h": [], "sunset_h": []}
for seconds, latitude, longitude in asked.get("days", []):
    midnight = pd.Timestamp(seconds, unit="s", tz="UTC")
    found = solarposition.sun_rise_set_transit_spa(pd.DatetimeIndex([midnight]), latitude, longitude)
    for key in ("sunrise", "sunset"):
        days[key + "_h"].append(float((found[key].iloc[0] - midnight).total_seconds()) / 3600.0)

json.dump({"places": places, "faces": faces, "splits": splits, "days": days}, sys.stdout)
