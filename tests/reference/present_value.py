"""Net present value of cash flows a period apart, the first of them today, by numpy-financial.

Input: {"cases": [{"rate": rate a period, "flows": [...]}, ...]}.
Output: {"values": [...]}.
"""

import json
import sys

import numpy_financial

cases = json.load(sys.stdin)["cases"]
json.dump({"values": [float(numpy_financial.npv(case["rate"], case["flows"])) for case in cases]}, sys.stdout)
