"""Moist air and water by CoolProp.

Input: {"water_k": [...], "air": [[T in K, relative humidity, pressure in Pa], ...]}.
Output: for each water temperature the saturation pressure (Pa), heat of evaporation (J/kg), viscosity (Pa s) and density (kg/m3) of the liquid
at one atmosphere, and surface tension (N/m); for each state of air the dew point (K), thermodynamic wet bulb (K), humidity ratio (kg/kg),
density of the moist air (kg/m3) and vapour density (kg/m3).
"""

import json
import sys

from CoolProp.CoolProp import HAPropsSI, PropsSI

asked = json.load(sys.stdin)
water = {"saturation_pa": [], "evaporation_j_kg": [], "viscosity_pa_s": [], "density_kg_m3": [], "surface_tension_n_m": []}
for t in asked["water_k"]:
    water["saturation_pa"].append(PropsSI("P", "T", t, "Q", 0, "Water"))
    water["evaporation_j_kg"].append(PropsSI("H", "T", t, "Q", 1, "Water") - PropsSI("H", "T", t, "Q", 0, "Water"))
    water["viscosity_pa_s"].append(PropsSI("V", "T", t, "P", 101325, "Water"))
    water["density_kg_m3"].append(PropsSI("D", "T", t, "P", 101325, "Water"))
    water["surface_tension_n_m"].append(PropsSI("I", "T", t, "Q", 0, "Water"))

air = {"dew_point_k": [], "wet_bulb_k": [], "humidity_ratio": [], "density_kg_m3": [], "vapour_density_kg_m3": []}
for t, humidity, pressure in asked["air"]:
    state = ("T", t, "R", humidity, "P", pressure)
    ratio = HAPropsSI("W", *state)
    volume = HAPropsSI("Vda", *state)
    air["dew_point_k"].append(HAPropsSI("D", *state))
    air["wet_bulb_k"].append(HAPropsSI("B", *state))
    air["humidity_ratio"].append(ratio)
    air["density_kg_m3"].append((1 + ratio) / volume)
    air["vapour_density_kg_m3"].append(ratio / volume)

json.dump({"water": water, "air": air}, sys.stdout)
