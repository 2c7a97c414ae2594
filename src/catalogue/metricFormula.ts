/** LaTeX by metric, the subset that Temml renders. Only pages show formulas: apart from the catalogue, so that Excel need not load them with the functions. */
const FORMULAS: Readonly<Record<string, string>> = {
  flightTime: "t_f = t_{LD} - t_{TO}",
  takeoffVelocity: "v_{TO} = \\frac{1}{m}\\int_{t_0}^{t_{TO}} (F - BW)\\,dt",
  jumpHeight: "h = \\frac{v_{TO}^2}{2g} \\;\\text{ or }\\; \\frac{g\\,t_f^2}{8} \\;\\text{ or }\\; \\frac{v_{TO}^2}{2g} + z_{TO}",
  jumpHeightTakeoffVelocity: "h = \\frac{v_{TO}^2}{2g}",
  jumpHeightFlightTime: "h = \\frac{g\\,t_f^2}{8}",
  jumpHeightAboveStanding: "h_s = \\frac{v_{TO}^2}{2g} + z_{TO}",
  heightDifference: "\\Delta h = \\frac{g\\,t_f^2}{8} - \\frac{v_{TO}^2}{2g}",
  peakVelocity: "v_{\\max} = \\max_{t \\le t_{TO}} v(t)",
  minimumVelocity: "v_{\\min} = \\min_{t_0 \\le t \\le t_{TO}} v(t)",
  takeoffDisplacement: "z_{TO} = \\int_{t_0}^{t_{TO}} v\\,dt",
  timeToTakeoff: "t_{TTT} = t_{TO} - t_0",
  rsiModified: "\\mathrm{RSI_{mod}} = \\frac{h}{t_{TO} - t_0}",
  flightTimeToTakeoffTimeRatio: "\\frac{t_f}{t_{TO} - t_0}",
  unweightingTime: "t_{UW} = t(v_{\\min}) - t_0",
  brakingTime: "t_{BR} = t_{\\mathrm{low}} - t(v_{\\min})",
  propulsionTime: "t_{PR} = t_{TO} - t_{\\mathrm{low}}",
  countermovementDepth: "z_{\\mathrm{low}} = \\int_{t_0}^{t_{\\mathrm{low}}} v\\,dt",
  pushOffDistance: "h_{PO} = z(t_{TO}) - z(t_{\\mathrm{low}})",
  brakingDisplacement: "\\Delta z_{BR} = z(t_{\\mathrm{low}}) - z(t(v_{\\min}))",
  propulsionDisplacement: "\\Delta z_{PR} = z(t_{TO}) - z(t_{\\mathrm{low}})",
  dipFraction: "d = \\frac{BW - \\min F}{BW}",
  minimumForce: "F_{\\min} = \\min_{t_0 \\le t \\le t_{\\mathrm{low}}} F(t)",
  peakForce: "F_{\\max} = \\max_{t_0 \\le t < t_{TO}} F(t)",
  peakForceBraking: "\\max_{t(v_{\\min}) \\le t \\le t_{\\mathrm{low}}} F(t)",
  peakForcePropulsion: "\\max_{t_{\\mathrm{low}} \\le t < t_{TO}} F(t)",
  meanForceUnweighting: "\\overline{F}_{UW} = BW + \\frac{m\\,v_{\\min}}{t_{UW}}",
  meanForceBraking: "\\overline{F}_{BR} = \\frac{1}{t_{BR}}\\int F\\,dt",
  meanForcePropulsion: "\\overline{F}_{PR} = \\frac{1}{t_{PR}}\\int_{t_{\\mathrm{low}}}^{t_{TO}} F\\,dt",
  forceAtZeroVelocity: "F_{\\mathrm{low}} = F(t_{\\mathrm{low}})",
  meanVelocityBraking: "\\overline{v}_{BR} = \\frac{\\Delta z_{BR}}{t_{BR}}",
  meanVelocityPropulsion: "\\overline{v}_{PR} = \\frac{\\Delta z_{PR}}{t_{PR}}",
  unweightingImpulse: "J_{UW} = \\int_{t_0}^{t(v_{\\min})} (F - BW)\\,dt = m\\,v_{\\min}",
  brakingImpulse: "J_{BR} = \\int_{t(v_{\\min})}^{t_{\\mathrm{low}}} (F - BW)\\,dt",
  propulsionImpulse: "J_{PR} = \\int_{t_{\\mathrm{low}}}^{t_{TO}} (F - BW)\\,dt = m\\,v_{TO}",
  peakPower: "P_{\\max} = \\max_{t_{\\mathrm{low}} \\le t < t_{TO}} F(t)\\,v(t)",
  meanPowerPropulsion: "\\overline{P}_{PR} = \\frac{m\\left(\\tfrac{1}{2}\\,(v_2^2 - v_1^2) + g\\,\\Delta z\\right)}{t_{PR}}",
  meanPowerBraking: "\\overline{P}_{BR} = \\frac{m\\left(\\tfrac{1}{2}\\,(v_2^2 - v_1^2) + g\\,\\Delta z\\right)}{t_{BR}}",
  minimumPowerBraking: "P_{\\min} = \\min_{t(v_{\\min}) \\le t < t_{\\mathrm{low}}} F(t)\\,v(t)",
  brakingRfd: "\\frac{F(t_{\\mathrm{low}}) - F(t(v_{\\min}))}{t_{BR}}",
  maximumRfd: "\\max_t \\frac{F(t + w) - F(t)}{w}",
  countermovementStiffness: "k = \\frac{F_{\\mathrm{low}} - BW}{|z_{\\mathrm{low}}|}",
  contactTime: "t_c = t_{TO} - t_{TD}",
  touchdownVelocity: "v_{TD} = -\\frac{1}{m}\\int_{t_{TD}}^{t_{\\mathrm{end}}} (F - BW)\\,dt \\quad\\text{(backward route)}",
  measuredDropHeight: "h_d = \\frac{v_{TD}^2}{2g}",
  nominalDropHeight: "h_{\\mathrm{box}}",
  rsi: "\\mathrm{RSI} = \\frac{h}{t_c}",
  flightToContactRatio: "\\frac{t_f}{t_c}",
  impactPeakForce: "F_{\\mathrm{imp}} = \\max_{0 \\le t - t_{TD} < 0.05\\,\\mathrm{s}} F(t)",
  secondPeakForce: "F_2 = \\max_{t > t(F_{\\mathrm{imp}})} F(t)",
  contactStiffness: "k = \\frac{F_{\\max}}{|z(t_{\\mathrm{low}}) - z(t_{TD})|}",
  hopCount: "n",
  bestFiveRsi: "\\frac{1}{5}\\sum_{k \\in \\text{best 5}} \\frac{g\\,t_{f,k}^2/8}{t_{c,k}}",
  lastFiveRsi: "\\frac{1}{5}\\sum_{k \\in \\text{last 5}} \\frac{g\\,t_{f,k}^2/8}{t_{c,k}}",
  meanHopRsi: "\\frac{1}{n}\\sum_{k=1}^{n} \\frac{g\\,t_{f,k}^2/8}{t_{c,k}}",
  meanContactTime: "\\frac{1}{n}\\sum_{k=1}^{n} t_{c,k}",
  meanFlightTime: "\\frac{1}{n}\\sum_{k=1}^{n} t_{f,k}",
  meanHopHeight: "\\frac{1}{n}\\sum_{k=1}^{n} \\frac{g\\,t_{f,k}^2}{8}",
  hopStiffness: "k = \\frac{F_{\\max}}{|\\Delta z|}",
  hopPowerFromTimes: "\\frac{P}{m} = \\frac{g^2\\,T_f\\,T}{4\\,n\\,(T - T_f)}",
  baselineForce: "F_b = \\overline{F}",
  preTensionForce: "F_b - BW",
  timeToPeakForce: "t(F_{\\max}) - t_0",
  peakLandingForce: "F_{LD} = \\max_{0 \\le t - t_{LD} < 0.3\\,\\mathrm{s}} F(t)",
  timeToPeakLandingForce: "t(F_{LD}) - t_{LD}",
  landingLoadingRate: "\\frac{F_{LD}}{t(F_{LD}) - t_{LD}}",
  landingImpulse: "J_{LD} = \\int_{t_{LD}}^{t(v = 0)} (F - BW)\\,dt = m\\,|v_{LD}|",
  landingVelocity: "v_{LD} = v_{TO} - g\\,t_f",
  landingTime: "t(v = 0) - t_{LD}",
  landingDepth: "z(t(v = 0)) - z(t_{LD})",
  timeToStabilisation: "\\min\\{\\,t : |F - BW| \\le 0.05\\,BW \\text{ on } [t,\\, t + 1\\,\\mathrm{s})\\,\\} - t_{LD}",
  bodyWeight: "BW = \\frac{1}{n}\\sum_{i=1}^{n} F_i",
  bodyMass: "m_b = \\frac{BW}{g} - m_{\\mathrm{load}}",
  weighingSd: "s = \\sqrt{\\frac{1}{n-1}\\sum_{i=1}^{n}(F_i - BW)^2}",
  bodyWeightUncertainty: "u(BW) = \\sqrt{\\left(\\tfrac{1}{2}\\,|\\overline{F}_1-\\overline{F}_2|\\right)^2 + \\frac{s_{\\mathrm{noise}}^2}{n} + u_{\\mathrm{zero}}^2 + \\frac{q^2}{12}}",
  flightOffset: "F_0 = \\overline{F}\\,(t_{TO}+\\delta,\\; t_{LD}-\\delta)",
  driftRate: "b = \\frac{\\overline{F}_{\\mathrm{after}} - \\overline{F}_{\\mathrm{before}}}{t_{\\mathrm{after}} - t_{\\mathrm{before}}}",
  endVelocity: "v_{\\mathrm{end}} = \\overline{v}\\,(t_{\\mathrm{end}} - 0.5\\,\\mathrm{s},\\; t_{\\mathrm{end}})",
};

/** Metrics of the pull whose name says their stretch of time, in milliseconds after the onset. */
const FAMILIES: readonly (readonly [name: RegExp, formula: (from: number, to: number) => string])[] = [
  [/^force()(\d+)ms$/, (_, to) => `F(${after(to)})`],
  [/^rfd(\d+)to(\d+)$/, (from, to) => `\\frac{F(${after(to)}) - F(${after(from)})}{${milliseconds(to - from)}}`],
  [/^impulse(\d+)to(\d+)$/, (from, to) => `\\int_{${after(from)}}^{${after(to)}} (F - BW)\\,dt`],
];

/**
 * The formula of a metric as LaTeX.
 *
 * @param id Exact id of a plain metric (no side, no form), no unit.
 * @returns Text of the formula, no unit; blank where the catalogue has no such metric.
 */
export function metricFormula(id: string): string {
  if (Object.hasOwn(FORMULAS, id)) return FORMULAS[id]!;
  for (const [name, formula] of FAMILIES) {
    const match = name.exec(id);
    if (match) return formula(Number(match[1]), Number(match[2]));
  }
  return "";
}

const after = (time: number): string => (time === 0 ? "t_0" : `t_0 + ${milliseconds(time)}`);

const milliseconds = (time: number): string => `${time}\\,\\mathrm{ms}`;
