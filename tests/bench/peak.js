// Runs the built command and tells the most memory the process had, kB, on standard error: `node peak.js <main.js> <words…>`.
import { pathToFileURL } from "node:url";

const [, , file, ...words] = process.argv;
const { main } = await import(pathToFileURL(file).href);
process.exitCode = await main(words);
process.stderr.write(`peak ${process.resourceUsage().maxRSS}\n`);
