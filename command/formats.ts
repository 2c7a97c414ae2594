import { type AnyEntry, printed } from "./entry.ts";
import { FACTS, factsOf } from "./entryFacts.ts";
import { visible } from "./visible.ts";

/**
 * How results are written. What of an entry needs no other entry is done where the entry is made, in the worker threads; one writer then
 * puts the pieces together in order.
 */
export interface Format<Piece = unknown> {
  /** Plain data. */
  pieceOf(entry: AnyEntry): Piece;
  writer(): PieceWriter<Piece>;
}

/** Turns pieces into the bytes or the text of a file one by one, so that a large folder is never held in memory. */
export interface PieceWriter<Piece = unknown> {
  add(piece: Piece): string | Uint8Array;
  end(): string | Uint8Array | Promise<Uint8Array>;
}

export interface TextFormat<Piece> extends Format<Piece> {
  writer(): { add(piece: Piece): string; end(): string };
}

export const jsonFormat: TextFormat<string> = {
  pieceOf: (entry) => JSON.stringify(printed(entry)),
  writer() {
    let first = true;
    return {
      add(piece) {
        const text = `${first ? "[\n" : ",\n"}${piece}`;
        first = false;
        return text;
      },
      end: () => (first ? "[]\n" : "\n]\n"),
    };
  },
};

/** One row: its facts, the ids of its metrics, and two cells for each; the facts alone for a file that could not be read. */
interface CsvPiece {
  readonly facts: string;
  readonly ids?: string;
  readonly cells?: string;
}

/** One row a trial. The columns are those of the first trial that could be read: trials of one run share a test, so also the columns; a metric another trial lacks is blank. */
export const csvFormat: TextFormat<CsvPiece> = {
  pieceOf(entry) {
    const facts = factsOf(entry).map(quoted).join(",");
    if ("error" in entry) return { facts };
    const ids: string[] = [];
    const numbers: (number | null)[] = [];
    for (const { id, value, u } of entry.metrics) {
      ids.push(id);
      numbers.push(value, u ?? null);
    }
    // JSON writes numbers as a string of each would be, all of them at once and in a third of the time.
    const cells = ids.length === 0 ? "" : `,${JSON.stringify(numbers).slice(1, -1).replaceAll("null", "")}`;
    return { facts, ids: ids.join(","), cells };
  },
  writer() {
    let columns: string | undefined;
    const failed: string[] = [];
    return {
      add({ facts, ids, cells }) {
        if (ids === undefined || cells === undefined) {
          failed.push(facts);
          return "";
        }
        if (columns !== undefined) return `${facts}${ids === columns ? cells : cellsInOrder(columns, ids, cells)}\n`;
        columns = ids;
        const heads = namesOf(ids).flatMap((id) => [id, `${id}_u`]);
        return `${[...FACTS, ...heads].map(quoted).join(",")}\n${facts}${cells}\n`;
      },
      end: () => (failed.length === 0 ? "" : `${columns === undefined ? `${FACTS.join(",")}\n` : ""}${failed.join("\n")}\n`),
    };
  },
};

const namesOf = (ids: string): string[] => (ids === "" ? [] : ids.split(","));

/** The cells of a trial whose metrics are not those of the columns. */
function cellsInOrder(columns: string, ids: string, cells: string): string {
  const written = cells.split(",");
  const places = new Map(namesOf(ids).map((id, k) => [id, 2 * k + 1]));
  return namesOf(columns)
    .map((id) => {
      const at = places.get(id);
      return at === undefined ? ",," : `,${written[at]},${written[at + 1]}`;
    })
    .join("");
}

/** RFC 4180; text that a spreadsheet would take for a formula gets a leading apostrophe. */
function quoted(value: string | number): string {
  if (typeof value === "number") {
    return String(value);
  }
  const safe = /^[=+\-@\t\r]/.test(value) ? `'${value}` : value;
  return /[",\n\r]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}

/** What a person reads first at a terminal, per test. */
const HEADLINES: Readonly<Record<string, readonly [id: string, head: string, scale: number, digits: number][]>> = {
  CMJ: [["jumpHeight", "height cm", 100, 1], ["flightTime", "flight s", 1, 3], ["timeToTakeoff", "to take-off s", 1, 3], ["rsiModified", "RSI mod", 1, 2], ["peakForce", "peak N", 1, 0], ["peakPower", "peak W", 1, 0], ["bodyMass", "mass kg", 1, 1]],
  SJ: [["jumpHeight", "height cm", 100, 1], ["flightTime", "flight s", 1, 3], ["timeToTakeoff", "to take-off s", 1, 3], ["dipFraction", "dip", 1, 3], ["peakForce", "peak N", 1, 0], ["peakPower", "peak W", 1, 0], ["bodyMass", "mass kg", 1, 1]],
  DJ: [["jumpHeight", "height cm", 100, 1], ["flightTime", "flight s", 1, 3], ["contactTime", "contact s", 1, 3], ["rsi", "RSI", 1, 2], ["measuredDropHeight", "drop cm", 100, 1], ["peakForce", "peak N", 1, 0], ["bodyMass", "mass kg", 1, 1]],
  RH: [["hopCount", "hops", 1, 0], ["bestFiveRsi", "best five RSI", 1, 2], ["meanContactTime", "contact s", 1, 3], ["meanFlightTime", "flight s", 1, 3], ["hopStiffness", "stiffness kN/m", 0.001, 1]],
  IMTP: [["peakForce", "peak N", 1, 0], ["force100ms", "100 ms N", 1, 0], ["force200ms", "200 ms N", 1, 0], ["rfd0to200", "RFD 0-200 N/s", 1, 0], ["bodyMass", "mass kg", 1, 1]],
};

/** Lines for a person, and the head that belongs above them; none for a file that could not be read. */
interface TablePiece {
  readonly head?: string;
  readonly text: string;
}

export const tableFormat: TextFormat<TablePiece> = {
  pieceOf(entry) {
    if ("error" in entry) return { text: `${visible(entry.file)}\n    could not be read: ${visible(entry.error)}\n` };
    const columns = HEADLINES[entry.test] ?? [];
    const head = ["verdict".padEnd(10), ...columns.map(([, name]) => name.padStart(14)), "  file"].join("");
    const values = columns.map(([id, , scale, digits]) => {
      const metric = entry.metrics.find((one) => one.id === id);
      return (metric ? (metric.value * scale).toFixed(digits) : "-").padStart(14);
    });
    const said = entry.findings.filter(({ action }) => action === "look" || action === "leave out" || action === "corrected");
    const sentences = said.map(({ rule, action, message }) => `    ${rule} ${action}: ${visible(message)}\n`);
    return { head, text: `${entry.verdict.padEnd(10)}${values.join("")}  ${visible(entry.file)} #${entry.trial}\n${sentences.join("")}` };
  },
  writer() {
    let shown = "";
    return {
      add({ head, text }) {
        if (head === undefined || head === shown) return text;
        shown = head;
        return `${head}\n${text}`;
      },
      end: () => "",
    };
  },
};
