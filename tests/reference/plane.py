"""The plane of least squared distances by NumPy's singular value decomposition.

Input: {"clouds": [[[x, y, z], ...], ...]}. Output: {"planes": [{"mean": [...], "normal": [...], "spread": root mean square distance}, ...]}.
"""

import json
import sys

import numpy as np

answers = []
for cloud in json.load(sys.stdin)["clouds"]:
    points = np.array(cloud)
    mean = points.mean(axis=0)
    _, singular, directions = np.linalg.svd(points - mean, full_matrices=False)
    answers.append(
        {"mean": mean.tolist(), "normal": directions[2].tolist(), "spread": float(singular[2] / np.sqrt(len(points)))}
    )
json.dump({"planes": answers}, sys.stdout)
