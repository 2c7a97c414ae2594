// Runs the built command and tells the most memory the process had, kB, and its processor time, s, on standard error: `node peak.js <main.js> <words…>`.
import { pathToFileURL } from "node:url";

const [, , file, ...words] = process.argv;
const { main } = await import(pathToFileURL(file).href);
process.exitCode = await main(words);
const { maxRSS, userCPUTime, systemCPUTime } = process.resourceUsage();
process.stderr.write(`peak ${maxRSS} processor ${(userCPUTime + systemCPUTime) / 1e6}\n`);
