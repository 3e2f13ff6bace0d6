// node run_node.mjs <folder of the core> <vectors.json>: prints counts, differences and the time of one size().

import { readFileSync } from "node:fs";
import { webcrypto } from "node:crypto";
import { pathToFileURL } from "node:url";
import { load, run } from "./check.js";

// Node 18 has it, but not under this name.
globalThis.crypto ??= webcrypto;
const [, , folder, vectors] = process.argv;
const mirror = await load(`${pathToFileURL(folder)}/`);
const cases = JSON.parse(readFileSync(vectors, "utf8"));
const told = await run(mirror, cases);
const jobs = cases.filter(([name, , expected]) => name === "size" && expected.is).slice(0, 500);
const start = performance.now();
for (const [, given] of jobs) mirror.size(...given);
console.log(JSON.stringify({ ...told, node: process.version, milliseconds: (performance.now() - start) / jobs.length }));
