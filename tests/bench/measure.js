import { spawn, spawnSync } from "node:child_process";
import { createInterface } from "node:readline";

/**
 * One line of the table.
 *
 * @typedef {object} Row
 * @property {string} id Name in `recorded.json`.
 * @property {string} work What was done.
 * @property {string} value What was measured, with its unit.
 * @property {string} [peer] The same of what it is compared with.
 * @property {number} [ratio] How many times faster than the peer, or the number that a limit is set for.
 * @property {number} [middle] Median of the ratios of single rounds.
 * @property {{ least?: number, most?: number }} [target] Limit of `ratio`.
 * @property {boolean} [less] True where a smaller ratio is better.
 * @property {string} [note] What a reader has to know.
 */

/** Seconds of the fastest of `times` calls. The fastest is what the work costs; the rest is what else the machine did. */
export function best(work, times) {
  let fastest = Infinity;
  for (let i = 0; i < times; i++) {
    const began = performance.now();
    work();
    fastest = Math.min(fastest, performance.now() - began);
  }
  return fastest / 1000;
}

/**
 * Two ways in turns, so that both meet the same load: the fastest of each, their ratio, and the median of the ratios round by round.
 *
 * @param {number} rounds
 * @param {() => number | Promise<number>} ours Seconds.
 * @param {() => number | Promise<number>} peer Seconds.
 */
export async function compared(rounds, ours, peer) {
  const pairs = [];
  for (let i = 0; i < rounds; i++) pairs.push([await ours(), await peer()]);
  const mine = Math.min(...pairs.map(([a]) => a));
  const theirs = Math.min(...pairs.map(([, b]) => b));
  return { ours: mine, peer: theirs, ratio: theirs / mine, middle: median(pairs.map(([a, b]) => b / a)) };
}

export function median(values) {
  const sorted = [...values].sort((a, b) => a - b);
  const at = (sorted.length - 1) / 2;
  return (sorted[Math.floor(at)] + sorted[Math.ceil(at)]) / 2;
}

/** Slope of log y on log x by least squares. */
export function logSlope(points) {
  const logs = points.map(([x, y]) => [Math.log(x), Math.log(y)]);
  const mean = (k) => logs.reduce((sum, point) => sum + point[k], 0) / logs.length;
  const [mx, my] = [mean(0), mean(1)];
  return logs.reduce((sum, [x, y]) => sum + (x - mx) * (y - my), 0) / logs.reduce((sum, [x]) => sum + (x - mx) ** 2, 0);
}

/** Whether a program answers; for python3, whether the packages are there too. */
export function answers(program, ...args) {
  return spawnSync(program, args, { stdio: "ignore", timeout: 60_000 }).status === 0;
}

/** A process that answers one line of JSON to each line. */
export function conversation(program, args) {
  const child = spawn(program, args, { stdio: ["pipe", "pipe", "inherit"] });
  const waiting = [];
  createInterface({ input: child.stdout }).on("line", (line) => waiting.shift()?.resolve(JSON.parse(line)));
  child.on("exit", (code) => waiting.forEach(({ reject }) => reject(new Error(`${program} ended with ${code}`))));
  return {
    ask(line) {
      return new Promise((resolve, reject) => {
        waiting.push({ resolve, reject });
        child.stdin.write(`${line}\n`);
      });
    },
    end() {
      child.stdin.end();
    },
  };
}

export function time(seconds) {
  if (seconds < 1e-3) return `${significant(seconds * 1e6)} µs`;
  if (seconds < 1) return `${significant(seconds * 1e3)} ms`;
  return `${significant(seconds)} s`;
}

export function significant(value) {
  return Math.abs(value) >= 100 ? value.toFixed(0) : Number(value.toPrecision(3)).toString();
}
