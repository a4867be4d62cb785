"""Plane geometry by shapely (GEOS).

Input: {"walls": [{"corners": [[x, y], ...], "frames": [[left, foot, right, head], ...], "voids": [same], }, ...]}.
Output: for each wall "valid" (a simple polygon), and for a valid one "area", "inside" (is each frame covered by the wall), "overlap" (do any two
frames share area) and "covered" (area of the wall under the union of the voids).
"""

import json
import sys
from itertools import combinations

from shapely import Polygon, box, union_all

answers = []
for wall in json.load(sys.stdin)["walls"]:
    polygon = Polygon(wall["corners"])
    if not polygon.is_valid:
        answers.append({"valid": False})
        continue
    frames = [box(*frame) for frame in wall["frames"]]
    voids = [box(*void) for void in wall["voids"]]
    answers.append(
        {
            "valid": True,
            "area": polygon.area,
            "inside": all(polygon.buffer(1e-9).covers(frame) for frame in frames),
            "overlap": any(a.intersection(b).area > 1e-9 for a, b in combinations(frames, 2)),
            "covered": polygon.intersection(union_all(voids)).area if voids else 0.0,
        }
    )
json.dump({"walls": answers}, sys.stdout)
