"""The straight-edge by its definition, word for word with NumPy, and the grey closing of SciPy.

Input: {"fields": [{"heights": [[...], ...], "steps": n}, ...]}, heights row by row.
Output: for each field "across" and "up" (the ruled face) and "mean" (across, mean over the beginnings of bays laid end to end), and "closing"
(flat grey closing across with n + 1 points, the line continued far below the wall), each row by row.
"""

import json
import sys

import numpy as np
from scipy.ndimage import grey_closing


def ruled(line, steps):
    face = line.copy()
    for j in range(len(line)):
        for k in range(j + 1, min(len(line), j + steps + 1)):
            x = np.arange(j, k + 1)
            face[j : k + 1] = np.maximum(face[j : k + 1], line[j] + (line[k] - line[j]) * (x - j) / (k - j))
    return face


def hull(line):
    face = line.copy()
    for j in range(len(line)):
        for k in range(j + 1, len(line)):
            x = np.arange(j, k + 1)
            face[j : k + 1] = np.maximum(face[j : k + 1], line[j] + (line[k] - line[j]) * (x - j) / (k - j))
    return face


def mean(line, steps):
    total = np.zeros_like(line)
    for first in range(steps):
        face = line.copy()
        cuts = sorted({0, len(line) - 1, *range(first, len(line), max(steps, 1))})
        for a, b in zip(cuts, cuts[1:]):
            face[a : b + 1] = np.maximum(face[a : b + 1], hull(line[a : b + 1]))
        total += face
    return total / steps


answers = []
for field in json.load(sys.stdin)["fields"]:
    heights, steps = np.array(field["heights"], dtype=float), field["steps"]
    deep = np.pad(heights, ((0, 0), (steps, steps)), constant_values=-1e6)
    closed = grey_closing(deep, size=(1, steps + 1))[:, steps : steps + heights.shape[1]]
    answers.append(
        {
            "across": [ruled(row, steps).tolist() for row in heights],
            "up": np.array([ruled(row, steps) for row in heights.T]).T.tolist(),
            "mean": [mean(row, steps).tolist() for row in heights],
            "closing": closed.tolist(),
        }
    )
json.dump({"fields": answers}, sys.stdout)
