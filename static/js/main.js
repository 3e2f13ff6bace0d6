// The page: which screen an address shows, the frame around it, the demo stripe.
import { html, render, useEffect, useState } from "../vendor/preact-htm/standalone.module.js";
import { get } from "./api.js";
import { Banners, Chip } from "./frame.js";
import { ready } from "./offline/phone.js";
import { forgetShown, status, tell } from "./offline/status.js";
import { lazy } from "./parts.js";
import { followLinks, usePath } from "./router.js";
import { startUpdates } from "./update.js";

const SCREENS = [
  [/^\/$/, lazy(() => import("./screens/home.js"), "Home")],
  [/^\/find$/, lazy(() => import("./screens/find.js"), "Find")],
  [/^\/rack$/, lazy(() => import("./screens/rack.js"), "Rack")],
  [/^\/cuts$/, lazy(() => import("./screens/cuts.js"), "Cuts")],
  [/^\/unsent$/, lazy(() => import("./screens/unsent.js"), "Unsent")],
  [/^\/devices$/, lazy(() => import("./screens/devices.js"), "Devices")],
  [/^\/pair$/, lazy(() => import("./screens/pair.js"), "Pair")],
  [/^\/tag\/([^/]+)$/, lazy(() => import("./screens/record.js"), "Record")],
  [/^\/job\/([^/]+)(?:\/([a-z]+))?$/, lazy(() => import("./screens/job.js"), "Job")],
];

function Nowhere() {
  return html`<main class="page" id="content"><h1>There is no such page</h1><p>Given: ${location.pathname}</p><p><a class="button" href="/">Go to the start</a></p></main>`;
}

function App() {
  const path = usePath();
  const [demo, setDemo] = useState(false);
  useEffect(forgetShown, [path]);
  useEffect(() => {
    get("/api/health").then((health) => {
      setDemo(health.demo);
      tell({ role: health.role });
    }, () => {});
  }, []);
  const [Screen, parts] = SCREENS.map(([pattern, screen]) => [screen, path.match(pattern)]).find(([, found]) => found) || [Nowhere, []];
  return html`<div onClick=${click}>
    <a class="skip" href="#content">Skip to the content</a>
    <header>
    ${demo && html`<p class="demo">DEMO: all of it is invented</p>`}
    <nav class="top" aria-label="Pitsplice">
      <a href="/" aria-label="Pitsplice, start">⌂</a>
      <${Chip} />
      <a href="/find">Find a tag</a>
      <a href="/rack">Rack</a>
    </nav></header>
    <${Banners} />
    <${Screen} key=${parts[1] || path} parts=${parts} demo=${demo} />
  </div>`;
}

/** Files that the laptop makes, printing above all, are not to be had without it. */
function click(event) {
  const link = event.target.closest?.("a[href^='/api/']");
  if (link && status().reach === false) {
    event.preventDefault();
    tell({ said: "Printing and files need the laptop. It is out of reach." });
    scrollTo(0, 0);
  } else {
    followLinks(event);
  }
}

const root = document.getElementById("app");
root.replaceChildren();
render(html`<${App} />`, root);
ready.then((phone) => phone.sync.start());
startUpdates();
