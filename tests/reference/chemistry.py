"""Molar masses (kg/mol) and enthalpies of formation (J/mol, 298.15 K) by the `chemicals` library, whose table of heats is the CRC Handbook's.

Input: a list of [CAS number, phase "s", "l" or "g"]. Output: a list of [molar mass, enthalpy of formation].
"""

import json
import sys

from chemicals import MW
from chemicals.reaction import Hfg, Hfl, Hfs

HEAT = {"s": lambda cas: Hfs(cas, method="CRC"), "l": lambda cas: Hfl(cas, method="CRC"), "g": lambda cas: Hfg(cas, method="CRC")}
json.dump([[MW(cas) / 1000.0, HEAT[phase](cas)] for cas, phase in json.load(sys.stdin)], sys.stdout)
