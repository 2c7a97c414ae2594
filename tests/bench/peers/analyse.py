"""What an analyst would write in a script: read a delimited recording with pandas, find one countermovement jump, give
20 metrics. No checks, no uncertainty. numpy, scipy and pandas only.

    python3 analyse.py serve FILE          answers lines: "analyse N", "read N", "read-exact N" with the seconds of the best of N,
                                           "height" with the height found
    python3 analyse.py folder FOLDER K N   analyses the files whose number is K modulo N; prints how many
                                           and the processor time, s
"""
import glob
import json
import sys
import time

import numpy as np
import pandas as pd
from scipy.integrate import cumulative_trapezoid

G = 9.80665


def read(path, **options):
    table = pd.read_csv(path, **options)
    return table.iloc[:, 0].to_numpy(), table.iloc[:, 1].to_numpy(), table.iloc[:, 2].to_numpy()


def analyse(time_, left, right):
    force = left + right
    dt = time_[1] - time_[0]
    below = np.flatnonzero(force < 20)
    runs = np.split(below, np.flatnonzero(np.diff(below) > 1) + 1)
    flight = max(runs, key=len)
    takeoff, landing = flight[0], flight[-1] + 1
    weighing = force[300:1300]
    weight, sd = weighing.mean(), weighing.std(ddof=1)
    mass = weight / G
    onset = 1300 + np.flatnonzero(np.abs(force[1300:takeoff] - weight) > max(5 * sd, 1))[0] - int(0.03 / dt)
    net = force[onset:] - weight
    velocity = cumulative_trapezoid(net / mass, dx=dt, initial=0)
    displacement = cumulative_trapezoid(velocity, dx=dt, initial=0)
    power = force[onset:] * velocity
    k = takeoff - onset
    slowest = int(np.argmin(velocity[:k]))
    lowest = slowest + int(np.flatnonzero(velocity[slowest:k] >= 0)[0])
    braking, propulsion = slice(onset + slowest, onset + lowest), slice(onset + lowest, takeoff)
    v = velocity[k]
    asymmetry = lambda s: 100 * (left[s].mean() - right[s].mean()) / (left[s].mean() + right[s].mean())
    return {
        "bodyMass": mass, "flightTime": (landing - takeoff) * dt, "takeoffVelocity": v, "height": v * v / (2 * G),
        "heightFlight": G * ((landing - takeoff) * dt) ** 2 / 8, "timeToTakeoff": k * dt, "rsiModified": v * v / (2 * G) / (k * dt),
        "depth": displacement[lowest], "peakForce": force[propulsion].max(), "meanForceBraking": force[braking].mean(),
        "meanForcePropulsion": force[propulsion].mean(), "peakPower": power[lowest:k].max(), "meanPower": power[lowest:k].mean(),
        "brakingImpulse": net[slowest:lowest].sum() * dt, "propulsionImpulse": net[lowest:k].sum() * dt,
        "brakingTime": (lowest - slowest) * dt, "propulsionTime": (k - lowest) * dt, "peakLanding": force[landing:landing + 300].max(),
        "asymmetryBraking": asymmetry(braking), "asymmetryPropulsion": asymmetry(propulsion),
    }


def best(work, n):
    fastest = float("inf")
    for _ in range(n):
        began = time.perf_counter()
        work()
        fastest = min(fastest, time.perf_counter() - began)
    return fastest


def serve(path):
    columns = read(path)
    works = {
        "analyse": lambda: analyse(*columns),
        "read": lambda: read(path),
        "read-exact": lambda: read(path, float_precision="round_trip"),
    }
    for line in sys.stdin:
        words = line.split()
        answer = {"height": analyse(*columns)["height"]} if words[0] == "height" else {"seconds": best(works[words[0]], int(words[1]))}
        print(json.dumps(answer), flush=True)


if __name__ == "__main__":
    if sys.argv[1] == "serve":
        serve(sys.argv[2])
    else:
        folder, part, parts = sys.argv[2], int(sys.argv[3]), int(sys.argv[4])
        files = sorted(glob.glob(folder + "/*.csv"))[part::parts]
        results = [dict(analyse(*read(path)), file=path) for path in files]
        text = json.dumps(results)
        print(json.dumps({"files": len(results), "characters": len(text), "processor": time.process_time()}))
