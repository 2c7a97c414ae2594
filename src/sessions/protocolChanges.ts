import { likeProtocols } from "../protocols/likeProtocols.ts";
import type { Protocol } from "../protocols/Protocol.ts";

/**
 * Where a history changes its protocol, so that a chart can mark it and a baseline can start anew.
 *
 * @param protocols Protocols of the sessions, oldest first, no unit.
 * @returns Positions whose protocol is unlike the one before, each with the reason.
 */
export function protocolChanges(protocols: readonly Protocol[]): readonly { readonly at: number; readonly reason: string }[] {
  const changes: { at: number; reason: string }[] = [];
  for (let at = 1; at < protocols.length; at++) {
    const reason = likeProtocols(protocols[at - 1], protocols[at]);
    if (reason !== undefined) changes.push({ at, reason });
  }
  return changes;
}
