"""Confirms this program's plans with HiGHS, a general solver that shares no code with it.

Reads the cases that `oracle_models` writes, solves each as a mixed-integer program built here, and compares. Exits with 1
when one does not agree.

grid    Binary x[a, p]: a board of pattern p (a thickness and the sizes ripped from it) lies on plane a. Every unit of height
        is taken by at most one board or its kerf. Pieces within the count of a size are worth more than those beyond.
        Solved twice: boards on the grid (no more than the plan), and boards that may lie anywhere within a unit above
        their place (no less).
master  Binary y[p]: pattern p of a list that holds every largest set of pieces. One is chosen.
pile    x[c, p]: logs of class c that are sawn by pattern p; z[g]: pieces of a want that gain g by being within its count. First
        as a linear program, then in whole numbers.
"""

import itertools
import json
import math
import sys

import highspy


class Model:
    """A mixed-integer program to maximise, written row by row."""

    def __init__(self):
        self.highs = highspy.Highs()
        self.highs.setOptionValue("output_flag", False)
        self.highs.setOptionValue("mip_rel_gap", 0.0)
        self.highs.setOptionValue("mip_abs_gap", 1e-7)
        self.columns = 0

    def column(self, worth, most, whole=True):
        self.highs.addVar(0.0, float(most))
        self.highs.changeColCost(self.columns, float(worth))
        if whole:
            self.highs.changeColIntegrality(self.columns, highspy.HighsVarType.kInteger)
        self.columns += 1
        return self.columns - 1

    def at_most(self, terms, limit):
        places = [place for place, factor in terms if factor]
        factors = [float(factor) for _, factor in terms if factor]
        if places:
            self.highs.addRow(-highspy.kHighsInf, float(limit), len(places), places, factors)

    def best(self):
        self.highs.changeObjectiveSense(highspy.ObjSense.kMaximize)
        self.highs.run()
        status = self.highs.getModelStatus()
        if status != highspy.HighsModelStatus.kOptimal:
            raise SystemExit(f"HiGHS did not finish: {status}")
        return self.highs.getInfo().objective_function_value

    def best_found(self, nodes, within):
        """The best in whole numbers that so many nodes find; the search ends when it is proven within a share."""
        self.highs.setOptionValue("mip_max_nodes", nodes)
        self.highs.setOptionValue("mip_rel_gap", within)
        self.highs.changeObjectiveSense(highspy.ObjSense.kMaximize)
        self.highs.run()
        return self.highs.getInfo().objective_function_value


def chord(diameter, a, thickness, lenient):
    """Width of the circle over a board whose lower plane is at a, or up to a unit above it where that is wider."""
    place = min(max((diameter - thickness) / 2, a), a + 1) if lenient else a
    m = max(abs(2 * place - diameter), abs(2 * (place + thickness) - diameter))
    return math.sqrt(diameter**2 - m**2) if m <= diameter else -1.0


def rips(sizes, thickness, kerf, width):
    """Every way to rip a width: how many of each size."""
    limits = [
        int((width + kerf) // (size["width"] + kerf)) if size["thickness"] == thickness else 0
        for size in sizes
    ]
    for counts in itertools.product(*(range(limit + 1) for limit in limits)):
        taken = sum(n * (size["width"] + kerf) for n, size in zip(counts, sizes))
        if any(counts) and taken - kerf <= width + 1e-9:
            yield counts


def grid(case, lenient):
    diameter, kerf, sizes = case["diameter"], case["kerf"], case["sizes"]
    model = Model()
    by_unit = {}
    by_size = [[] for _ in sizes]
    for thickness in sorted({size["thickness"] for size in sizes}):
        for a in range(-1 if lenient else 0, diameter):
            width = chord(diameter, a, thickness, lenient)
            if width < 0:
                continue
            for counts in rips(sizes, thickness, kerf, width):
                board = model.column(sum(n * size["extra"] for n, size in zip(counts, sizes)), 1)
                for unit in range(a, a + thickness + kerf):
                    by_unit.setdefault(unit, []).append((board, 1))
                for pieces, n in zip(by_size, counts):
                    pieces.append((board, -n))
    for boards in by_unit.values():
        model.at_most(boards, 1)
    for size, pieces in zip(sizes, by_size):
        if size["count"] is not None:
            within = model.column(size["worth"] - size["extra"], size["count"])
            model.at_most([(within, 1), *pieces], 0)
    return model.best()


def master(case):
    model = Model()
    cuts = case["cuts"]
    patterns = [
        model.column(sum(n * cut["extra"] for n, cut in zip(pattern, cuts)) / 1e6, 1)
        for pattern in case["patterns"]
    ]
    model.at_most([(pattern, 1) for pattern in patterns], 1)
    by_want = [[] for _ in case["counts"]]
    for place, cut in enumerate(cuts):
        count = case["counts"][cut["want"]]
        within = model.column((cut["worth"] - cut["extra"]) / 1e6, count)
        by_want[cut["want"]].append((within, 1))
        pieces = [(column, -pattern[place]) for column, pattern in zip(patterns, case["patterns"])]
        model.at_most([(within, 1), *pieces], 0)
    for want, count in zip(by_want, case["counts"]):
        model.at_most(want, count)
    return model.best() * 1e6


def pile(case, whole):
    """The most that amounts of the known patterns are worth, in millionths of the unit of worth; in whole numbers, or not."""
    model = Model()
    gains = {}
    given = {}
    for logs, suitable in zip(case["logs"], case["suitable"]):
        chosen = []
        for place in suitable:
            pattern = case["patterns"][place]
            worth = -pattern["effort"] / case["unit"]
            pieces = {}
            for want, within, beyond, number in pattern["pieces"]:
                counted = case["counts"][want] is not None
                worth += number * (beyond if counted else within)
                if counted and within > beyond:
                    gain = (want, within - beyond)
                    pieces[gain] = pieces.get(gain, 0) + number
            column = model.column(worth / 1e6, logs, whole)
            chosen.append((column, 1))
            for gain, number in pieces.items():
                given.setdefault(gain, []).append((column, -number))
        model.at_most(chosen, logs)
    for (want, gain), pieces in given.items():
        column = model.column(gain / 1e6, case["counts"][want], whole)
        gains.setdefault(want, []).append((column, 1))
        model.at_most([(column, 1), *pieces], 0)
    for want, columns in gains.items():
        model.at_most(columns, case["counts"][want])
    return (model.best_found(2000, 1e-6) if whole else model.best()) * 1e6


def main():
    cases = json.load(sys.stdin)
    wrong = pinned = 0
    for n, case in enumerate(cases["grid"], 1):
        least, most = grid(case, False), grid(case, True)
        plan, bound = case["plan_worth"], case["bound"]
        agrees = least <= plan + 1e-6 and plan <= most + 1e-6 and least <= bound + 1e-6
        pinned += agrees and abs(most - plan) < 1e-6
        wrong += not agrees
        print(f"grid {n}: HiGHS {least:.0f} on the grid, {most:.0f} off it; plan {plan}, bound {bound}"
              f"{'' if agrees else '  DISAGREES'}")
    for n, case in enumerate(cases["master"], 1):
        best = master(case)
        plan, bound = case["plan_worth"], case["bound"]
        # Six digits: worth is in millionths.
        agrees = best <= bound + 1 and (abs(best - plan) <= 1 if plan == bound else plan <= best + 1)
        pinned += agrees and plan == bound
        wrong += not agrees
        print(f"master {n}: HiGHS {best / 1e6:.6f} of {len(case['patterns'])} patterns; plan {plan / 1e6:.6f}, "
              f"bound {bound / 1e6:.6f}{'' if agrees else '  DISAGREES'}")
    for n, case in enumerate(cases["pile"], 1):
        bound, plan = int(case["bound"]) / case["unit"], int(case["plan_value"]) / case["unit"]
        amounts, best = pile(case, False), pile(case, True)
        # Seven digits are what the solver is sure of; prices are sought to a part in 50,000.
        digits = 1e-7 * bound + 1
        agrees = plan <= amounts + digits and amounts <= bound + digits and best <= bound + digits
        close = bound - amounts <= bound / 50_000
        pinned += agrees and close
        wrong += not agrees
        print(f"pile {n}: {sum(case['logs'])} logs, {len(case['patterns'])} patterns; HiGHS {amounts / 1e6:.3f} in amounts "
              f"(bound {bound / 1e6:.3f}), {best / 1e6:.3f} whole (plan {plan / 1e6:.3f}, "
              f"{100 * (best - plan) / bound:+.4f} %){'' if agrees else '  DISAGREES'}")
    total = len(cases["grid"]) + len(cases["master"]) + len(cases["pile"])
    print(f"HiGHS {highspy.Highs().version()}: {total - wrong} of {total} agree, {pinned} of them to the last digit")
    if wrong or not total or pinned * 2 < total:
        raise SystemExit(1)


if __name__ == "__main__":
    main()
