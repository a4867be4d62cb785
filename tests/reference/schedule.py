"""Schedules with gaps that depend on when the earlier task ends, by OR-Tools CP-SAT, modelled slot by slot (closed slots included), apart from how
harlwright models them.

Input: {"cases": [{"instance": {...}, "aim": "finish" | "cost"}, ...], "seconds": limit of each, "workers": threads}.
Output: {"cases": [{"status", "value", "bound", "seconds"}, ...]}.
"""

import json
import sys
import time

from ortools.sat.python import cp_model

NEVER = 2**32 - 1


def holds(stretches, slot):
    return any(a <= slot < b for a, b in stretches)


class Case:
    def __init__(self, instance, aim):
        self.i = instance
        self.m = cp_model.CpModel()
        self.slots = instance["slots"]
        self.open = [not holds(instance["closed"], s) for s in range(self.slots)]
        # open_before[s]: open slots among the first s.
        self.open_before = [0]
        for is_open in self.open:
            self.open_before.append(self.open_before[-1] + is_open)
        self.tasks()
        self.gaps()
        self.spans()
        self.aim(aim)

    def tasks(self):
        self.start, self.end, self.done, by_gang = [], [], [], {}
        for n, task in enumerate(self.i["tasks"]):
            start = self.m.new_int_var(0, self.slots, f"s{n}")
            end = self.m.new_int_var(0, self.slots, f"e{n}")
            done = {}
            for gang, length in task["ways"]:
                mine = done[gang] = self.m.new_bool_var(f"w{n}_{gang}")
                pairs = dict(self.pairs(task, self.i["gangs"][gang]["away"], length))
                # Whatever a slot that is not allowed leads to, it is never chosen.
                ends = [pairs.get(a, a + length) for a in range(self.slots + 1)]
                ended = self.m.new_int_var(0, max(ends), "")
                self.m.add_element(start, ends, ended)
                self.m.add(end == ended).only_enforce_if(mine)
                allowed = cp_model.Domain.from_values(list(pairs))
                self.m.add_linear_expression_in_domain(start, allowed).only_enforce_if(mine)
                size = self.m.new_int_var(1, self.slots, f"d{n}_{gang}")
                by_gang.setdefault(gang, []).append(self.m.new_optional_interval_var(start, size, end, mine, f"i{n}_{gang}"))
            self.m.add_exactly_one(done.values())
            self.start.append(start)
            self.end.append(end)
            self.done.append(done)
        for intervals in by_gang.values():
            self.m.add_no_overlap(intervals)

    def pairs(self, task, away, length):
        """Where a task may begin and has then ended, walking the slots."""
        found = []
        for a in range(task["not_before"], self.slots):
            if not self.open[a] or (task["starts"] and not holds(task["starts"], a)):
                continue
            b, left = a, length
            while left and b < self.slots:
                left -= self.open[b]
                b += 1
            if left or (task["deadline"] is not None and b > task["deadline"]) or (task["unbroken"] and b - a != length):
                continue
            if not any(self.open[s] and holds(away, s) for s in range(a, b)):
                found.append((a, b))
        return found

    def gaps(self):
        for g in self.i["gaps"]:
            reach = [min(e + w, 2 * self.slots) for e, w in enumerate(g["wait"])]
            earliest = self.m.new_int_var(0, 2 * self.slots, "")
            self.m.add_element(self.end[g["before"]], reach, earliest)
            self.m.add(self.start[g["after"]] >= earliest)

    def spans(self):
        self.stands = []
        for k, scaffold in enumerate(self.i["scaffolds"]):
            intervals, demands = [], []
            for a, b in scaffold["closed"]:
                intervals.append(self.m.new_fixed_size_interval_var(a, b - a, ""))
                demands.append(scaffold["sets"])
            for span in self.i["spans"]:
                if span["scaffold"] != k:
                    continue
                size = self.m.new_int_var(0, 2 * self.slots, "")
                intervals.append(self.m.new_interval_var(self.start[span["first"]], size, self.end[span["last"]] + span["stays"], ""))
                demands.append(1)
                self.stands.append((span["per_slot"], size))
            self.m.add_cumulative(intervals, demands, scaffold["sets"])

    def aim(self, aim):
        finish = self.m.new_int_var(0, self.slots, "finish")
        self.m.add_max_equality(finish, self.end)
        if aim == "finish":
            self.m.minimize(finish)
            return
        terms = [self.i["per_slot"] * finish] + [rate * size for rate, size in self.stands]
        for n, task in enumerate(self.i["tasks"]):
            if task["due"]:
                by, rate = task["due"]
                late = self.m.new_int_var(0, self.slots, "")
                self.m.add(late >= self.end[n] - by)
                terms.append(rate * late)
            if task["charge"]:
                charge = self.m.new_int_var(0, max(task["charge"]), "")
                self.m.add_element(self.start[n], task["charge"] + [0], charge)
                terms.append(charge)
        terms += self.visits()
        self.m.minimize(sum(terms))

    def visits(self):
        """A visit begins with each task before which its gang has been idle too long: the tasks of a gang in a line, by a circuit."""
        worked = [self.m.new_int_var(0, self.slots, "") for _ in self.start]
        ended = [self.m.new_int_var(0, self.slots, "") for _ in self.start]
        for n in range(len(self.start)):
            self.m.add_element(self.start[n], self.open_before, worked[n])
            self.m.add_element(self.end[n], self.open_before, ended[n])
        terms = []
        for gang, told in enumerate(self.i["gangs"]):
            its = [n for n, done in enumerate(self.done) if gang in done]
            if not told["visit"] or not its:
                continue
            arcs = [(0, 0, none := self.m.new_bool_var(""))]
            for n in its:
                first, last = self.m.new_bool_var(""), self.m.new_bool_var("")
                arcs += [(0, n + 1, first), (n + 1, 0, last), (n + 1, n + 1, ~self.done[n][gang])]
                self.m.add_implication(none, ~self.done[n][gang])
                terms.append(told["visit"] * first)
                for other in its:
                    if other == n:
                        continue
                    then, gone = self.m.new_bool_var(""), self.m.new_bool_var("")
                    arcs.append((n + 1, other + 1, then))
                    self.m.add(self.start[other] >= self.end[n]).only_enforce_if(then)
                    self.m.add(worked[other] - ended[n] <= told["patience"]).only_enforce_if(then, ~gone)
                    terms.append(told["visit"] * gone)
            self.m.add_circuit(arcs)
        return terms


def solved(case, seconds, workers):
    model = Case(case["instance"], case["aim"]).m
    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = seconds
    solver.parameters.num_workers = workers
    begun = time.perf_counter()
    status = solver.status_name(solver.solve(model))
    found = status in ("OPTIMAL", "FEASIBLE")
    return {
        "status": status,
        "value": round(solver.objective_value) if found else None,
        "bound": round(solver.best_objective_bound) if found else None,
        "seconds": time.perf_counter() - begun,
    }


asked = json.load(sys.stdin)
json.dump({"cases": [solved(case, asked["seconds"], asked["workers"]) for case in asked["cases"]]}, sys.stdout)
