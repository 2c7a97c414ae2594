import { spawn } from "node:child_process";
import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import path from "node:path";
import { root, run } from "../../../scripts/ensure.js";
import { compared, time } from "../measure.js";
import { delimited, trial } from "../trial.js";

const FILES = 2000;
const ROUNDS = 4;

/** A season's folder: the command with two threads beside the script as two processes, each half of the files. */
export default async function folder({ folder, peers, pythonProgram }) {
  if (run(process.execPath, ["scripts/buildCommand.js"]) !== 0) throw new Error("the command could not be built");
  const [some, all] = [path.join(folder, "some"), path.join(folder, "all")];
  mkdirSync(some);
  mkdirSync(all);
  for (let i = 0; i < FILES; i++) {
    const text = delimited(trial(i + 1));
    writeFileSync(path.join(all, `${String(i).padStart(4, "0")}.csv`), text);
    if (i < FILES / 8) writeFileSync(path.join(some, `${String(i).padStart(4, "0")}.csv`), text);
  }
  const out = path.join(folder, "results.csv");
  const main = path.join(root, "dist", "command", "main.js");
  const command = async (places) => {
    const began = performance.now();
    const { code, stderr } = await finished(process.execPath, [path.join(root, "tests", "bench", "peak.js"), main, "analyse", places, "--test", "CMJ", "--jobs", "2", "--format", "csv", "--out", out]);
    if (code !== 0) throw new Error(`the command ended with ${code}: ${stderr}`);
    const [, kilobytes, processor] = /peak (\d+) processor ([\d.]+)/.exec(stderr);
    return { seconds: (performance.now() - began) / 1000, peak: Number(kilobytes) / 1024, processor: Number(processor) };
  };
  const few = await command(some);
  let peak = 0;
  // Processor time tells what the work costs where other programs take turns with it.
  let ourProcessor = Infinity;
  let peerProcessor = Infinity;
  const ours = async () => {
    const { seconds, peak: most, processor } = await command(all);
    peak = Math.max(peak, most);
    ourProcessor = Math.min(ourProcessor, processor);
    return seconds;
  };
  const rows = [];
  if (pythonProgram === undefined) await ours();
  else {
    const script = path.join(peers, "analyse.py");
    const peer = async () => {
      const began = performance.now();
      const done = await Promise.all([0, 1].map((part) => finished(pythonProgram, [script, "folder", all, String(part), "2"])));
      const told = done.map(({ code, stdout }) => (code === 0 ? JSON.parse(stdout) : { files: 0, processor: 0 }));
      peerProcessor = Math.min(peerProcessor, told.reduce((sum, { processor }) => sum + processor, 0));
      if (told.some(({ files }) => files !== FILES / 2)) throw new Error(`the script did not read every file: ${done.map(({ stderr }) => stderr).join(" ")}`);
      return (performance.now() - began) / 1000;
    };
    const both = await compared(ROUNDS, ours, peer);
    rows.push({
      id: "folder", work: `folder of ${FILES} trials, start to finish: command with --jobs 2 beside the script as two processes`,
      value: `${time(both.ours)}, ${Math.round(FILES / both.ours)} trials/s`, peer: `${time(both.peer)}, ${Math.round(FILES / both.peer)} trials/s`, ratio: both.ratio, middle: both.middle, target: { least: 3 },
      note: `processor time ${time(ourProcessor)} beside ${time(peerProcessor)}, which would be a ratio of ${(peerProcessor / ourProcessor).toFixed(2)}`,
    });
  }
  const lines = readFileSync(out, "utf8").trimEnd().split("\n");
  const files = new Set(lines.slice(1).map((line) => line.split(",")[0]));
  if (files.size !== FILES) throw new Error(`the results tell of ${files.size} of ${FILES} files`);
  rows.push({ id: "folder-memory", work: `most memory for ${FILES} files, MB`, value: `${peak.toFixed(0)} MB (${few.peak.toFixed(0)} MB for ${FILES / 8} files)`, ratio: peak, less: true, absolute: true, target: { most: 300 } });
  return rows;
}

function finished(program, args) {
  return new Promise((resolve, reject) => {
    const child = spawn(program, args, { stdio: ["ignore", "pipe", "pipe"] });
    let stdout = "";
    let stderr = "";
    child.stdout.on("data", (data) => (stdout += data));
    child.stderr.on("data", (data) => (stderr += data));
    child.on("error", reject);
    child.on("close", (code) => resolve({ code, stdout, stderr }));
  });
}
