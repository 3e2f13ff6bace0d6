// One import for the pages: the vendored preact, its hooks and htm, joined here.
import { h } from "./preact.module.js";
import htm from "./htm.module.js";

export * from "./preact.module.js";
export * from "./hooks.module.js";
export const html = htm.bind(h);
