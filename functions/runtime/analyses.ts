import type { Analysis, Finding } from "../../src/protocols/Analysis.ts";
import { analyse } from "../../src/protocols/analyse.ts";
import { analyseTimes } from "../../src/protocols/analyseTimes.ts";
import { parseAdjust } from "../../src/protocols/parseAdjust.ts";
import { parseProtocol } from "../../src/protocols/parseProtocol.ts";
import { noteAnalysis } from "./boundary.ts";
import { requiredText, singleFrom, textFrom } from "./cells.ts";
import { settingsFromArgument } from "./settingsFromArgument.ts";
import { traceFromArgument, type MadeTrace } from "./traceFromArgument.ts";

/** How much memory the kept analyses may hold, bytes (an estimate from their samples). */
const MOST_BYTES = 256 * 1024 * 1024;
/** Steps, maps and findings of one analysis, bytes (an estimate). */
const BYTES_EACH = 40_000;

interface Kept {
  readonly id: string;
  readonly content: string;
  /** Key of the trace. */
  readonly source: string;
  readonly analysis: Analysis;
  readonly bytes: number;
}

const byContent = new Map<string, Kept>();
const byId = new Map<string, Kept>();
/** Traces of the analyses that are kept: another setting or protocol reads no cell again. */
const traces = new Map<string, { readonly made: MadeTrace; uses: number }>();
let bytesKept = 0;
let serial = 0;

/**
 * The analysis that a formula asks for: trace × protocol × settings × adjust, computed once and kept
 * while memory allows, least recently used first out.
 */
export function analysisFrom(trace: unknown, protocol: unknown, settings: unknown, adjust: unknown, rate: unknown): Analysis {
  const source = traceFromArgument(trace, rate);
  const protocolText = requiredText(singleFrom(protocol, "protocol"), "protocol");
  const chosen = settingsFromArgument(settings);
  const adjustText = textFrom(singleFrom(adjust, "adjust"), "adjust") ?? "";
  const content = `${protocolText}\u0001${adjustText}\u0001${chosen.digest}\u0001${source.key}`;
  let kept = byContent.get(content);
  if (kept === undefined) {
    const asked = parseProtocol(protocolText);
    const adjusted = parseAdjust(adjustText);
    const trace = traces.get(source.key)?.made ?? source.make();
    const { trace: made, notes } = trace;
    const analysis = "plates" in made ? analyse(made, asked, chosen, adjusted) : analyseTimes(made, asked, chosen, adjusted);
    kept = keep(content, source.key, trace, withNotes(analysis, notes));
  } else {
    byContent.delete(content);
    byContent.set(content, kept);
  }
  noteAnalysis(kept.id);
  return kept.analysis;
}

/** The analysis of a call record; `undefined` where it has made way since (then the cell is calculated again). */
export function analysisByKey(key: string): Analysis | undefined {
  return byId.get(key)?.analysis;
}

/** How many analyses were made since the program started. */
export function analysesMade(): number {
  return serial;
}

/** How many analyses are kept and how much memory they are estimated to hold, bytes. */
export function analysesKept(): { readonly count: number; readonly bytes: number } {
  return { count: byContent.size, bytes: bytesKept };
}

/** The analysis with what reading the cells had to note among its findings, last. */
function withNotes(analysis: Analysis, notes: readonly string[]): Analysis {
  if (notes.length === 0) return analysis;
  const noted: Finding[] = notes.map((message) => ({ rule: "cells", action: "note", removes: [], message, values: {} }));
  // Inherits: steps and reasons are made only when someone asks for them.
  return Object.create(analysis, { findings: { value: [...analysis.findings, ...noted], enumerable: true } }) as Analysis;
}

function keep(content: string, source: string, trace: MadeTrace, analysis: Analysis): Kept {
  // Measured in a browser: nine numbers a sample of two plates, with the trace itself, its corrected copy, sum, velocity and displacement.
  const samples = analysis.trace.plates.reduce((sum, plate) => sum + plate.force.length, 0);
  const kept: Kept = { id: `analysis ${++serial}`, content, source, analysis, bytes: BYTES_EACH + 2 * content.length + 36 * samples };
  byContent.set(content, kept);
  byId.set(kept.id, kept);
  bytesKept += kept.bytes;
  const shared = traces.get(source);
  if (shared) shared.uses++;
  else traces.set(source, { made: trace, uses: 1 });
  for (const oldest of byContent.values()) {
    if (bytesKept <= MOST_BYTES || oldest === kept) break;
    byContent.delete(oldest.content);
    byId.delete(oldest.id);
    bytesKept -= oldest.bytes;
    letGo(oldest.source);
  }
  return kept;
}

/** Forgets a trace whose last analysis has made way. */
function letGo(source: string): void {
  const shared = traces.get(source);
  if (shared && --shared.uses === 0) traces.delete(source);
}
