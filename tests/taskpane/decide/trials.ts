import { parseProtocol } from "../../../src/protocols/parseProtocol.ts";
import type { Instrument } from "../../../src/sessions/likeText.ts";
import type { DecideTrial } from "../../../taskpane/decide/DecideTrial.ts";

let made = 0;

/** A trial with given values, without a trace. */
export function trial(athlete: string, date: string, protocol: string, values: Readonly<Record<string, number>>, use: "keep" | "leave out" | "look" = "keep", instrument: Instrument = "plate"): DecideTrial {
  made += 1;
  return {
    key: `made-${made}`, athlete, date, protocol: parseProtocol(protocol), instrument, stated: protocol, verdict: use, use: use === "leave out" ? "leave out" : "keep", doubtful: use === "look", reason: use === "leave out" ? "technique" : "",
    value: (name) => values[name],
  };
}
