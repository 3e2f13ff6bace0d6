// What counts as a difference between phone and laptop: node compare.mjs MIRROR, pairs on standard input.
import { readFileSync } from "node:fs";
import { pathToFileURL } from "node:url";

const { differences } = await import(pathToFileURL(process.argv[2]));
const pairs = JSON.parse(readFileSync(0, "utf8"));
console.log(JSON.stringify(pairs.map(([phone, laptop]) => differences(phone, laptop).map((one) => one.where))));
