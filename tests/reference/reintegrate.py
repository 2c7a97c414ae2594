"""Integrates force again with SciPy: trapezoid and spline. Reads JSON jobs from standard input, writes JSON results."""
import json
import sys

import numpy as np
from scipy.integrate import cumulative_trapezoid
from scipy.interpolate import make_interp_spline

results = []
for job in json.load(sys.stdin):
    force = np.array(job["force"])
    time = np.arange(force.size) / job["rate"]
    weight, g = job["bodyWeight"], job["gravity"]
    start = int(np.ceil(job["onset"] * job["rate"] - 1e-6))
    stop = int(np.floor(job["takeoff"] * job["rate"])) + 2
    acceleration = (force[start:stop] - weight) * g / weight
    t = time[start:stop]
    velocity = cumulative_trapezoid(acceleration, t, initial=0)
    height = cumulative_trapezoid(velocity, t, initial=0)
    # The spline leaves out the sample after take-off, where the force has a corner.
    spline = make_interp_spline(t[:-1], acceleration[:-1], k=3).antiderivative()
    position = spline.antiderivative()
    last = t[-2]
    results.append({
        "trapezoidVelocity": float(np.interp(job["takeoff"], t, velocity)),
        "trapezoidDisplacement": float(np.interp(job["takeoff"], t, height)),
        "splineVelocityAtLastSample": float(spline(last) - spline(t[0])),
        "splineDisplacementAtLastSample": float(position(last) - position(t[0]) - spline(t[0]) * (last - t[0])),
        "lastSample": float(last),
    })
json.dump(results, sys.stdout)
