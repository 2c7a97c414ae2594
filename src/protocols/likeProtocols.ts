import type { Protocol } from "./Protocol.ts";

/**
 * Whether two protocols asked for the same, so that their results may be compared or averaged.
 *
 * A limb that was not stated is both; a load that was not stated is none. Arms and drop height that were stated once only are unlike:
 * nobody knows what the other athlete did.
 *
 * @param a One protocol; drop height in m, load in kg.
 * @param b The other.
 * @param except Parts that are meant to differ, for instance `["test"]` in a ratio of two tests.
 * @returns Nothing where they are alike, else the reason in words.
 */
export function likeProtocols(a: Protocol, b: Protocol, except: readonly (keyof Protocol)[] = []): string | undefined {
  for (const part of ["test", "dropHeight", "arms", "limb", "load"] as const) {
    if (except.includes(part)) continue;
    const [one, other] = [stated(a, part), stated(b, part)];
    if (one === other) continue;
    if (typeof one === "number" && typeof other === "number" && Math.abs(one - other) < 1e-9) continue;
    if (one === undefined || other === undefined) return `${WORDS[part]} stated in one protocol only (${show(part, one ?? other)})`;
    return `${WORDS[part]} differ: ${show(part, one)} and ${show(part, other)}`;
  }
  return undefined;
}

const WORDS: Readonly<Record<keyof Protocol, string>> = {
  test: "tests",
  dropHeight: "drop heights",
  arms: "arms",
  limb: "limbs",
  load: "loads",
};

function stated(protocol: Protocol, part: keyof Protocol): string | number | undefined {
  if (part === "limb") return protocol.limb ?? "both";
  if (part === "load") return protocol.load ?? 0;
  return protocol[part];
}

function show(part: keyof Protocol, value: string | number | undefined): string {
  if (part === "dropHeight") return `${value} m`;
  return part === "load" ? `${value} kg` : String(value);
}
