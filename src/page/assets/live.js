// @ts-check
// Keeps the page fresh: when the journal has grown, and every half minute because clocks pass limits by themselves.
// Only the parts marked data-live are replaced, and never one in which something is being typed.
const source = document.body.dataset.liveFrom;
const state = document.querySelector(".link-state");
const kEvery = 30000;
let typing = new WeakSet();
let seen = "";
let busy = false;
/** @type {EventSource | null} */
let stream = null;

document.addEventListener("input", (event) => {
  const form = event.target instanceof Element ? event.target.closest("form") : null;
  if (form) typing.add(form);
});

/** @param {Element} part */
function inUse(part) {
  const active = document.activeElement;
  if (active && part.contains(active) && active.matches("input, select, textarea")) return true;
  return [...part.querySelectorAll("form")].some((form) => typing.has(form));
}

/** What a person reads in it, without the ages that run by themselves. @param {Element} part */
function gist(part) {
  const copy = /** @type {Element} */ (part.cloneNode(true));
  for (const age of copy.querySelectorAll("[data-elapsed]")) age.textContent = "";
  return (copy.textContent ?? "") + [...copy.querySelectorAll("a")].map((a) => a.getAttribute("href")).join(" ");
}

/** @param {ParentNode} page */
function urgent(page) {
  return new Set([...page.querySelectorAll(".level-emergency h3, .level-call_vet h3, .urgent .headline")].map((h) => h.textContent ?? ""));
}

/** @param {Document} fresh */
function put(fresh) {
  const before = urgent(document);
  for (const part of document.querySelectorAll("[data-live]")) {
    const name = part.getAttribute("data-live") ?? "";
    const news = fresh.querySelector(`[data-live="${CSS.escape(name)}"]`);
    if (!news || inUse(part) || gist(news) === gist(part)) continue;
    const open = [...part.querySelectorAll("details")].map((d) => d.open);
    part.replaceChildren(...news.childNodes);
    const now = [...part.querySelectorAll("details")];
    if (now.length === open.length) now.forEach((d, i) => (d.open = open[i]));
  }
  const added = [...urgent(document)].filter((headline) => !before.has(headline));
  const alarm = document.querySelector("[data-announce]");
  if (alarm && added.length) alarm.textContent = added.join(". ");
  document.dispatchEvent(new Event("lampside-refreshed"));
}

/** @param {boolean} on */
function connected(on) {
  if (!state) return;
  const said = on ? "" : "Not connected: this page may be old";
  if (state.textContent !== said) state.textContent = said;
}

async function refresh() {
  if (busy || document.hidden) return;
  busy = true;
  try {
    // After a refused form the address is the form's own, which cannot be fetched: the screen it was on is asked for.
    const screen = document.body.dataset.here;
    const here = /\/(record|strike)$/.test(location.pathname) && screen ? screen : location.pathname + location.search;
    const answer = await fetch(here, { headers: { accept: "text/html" }, cache: "no-store" });
    if (!answer.ok) throw new Error(String(answer.status));
    put(new DOMParser().parseFromString(await answer.text(), "text/html"));
    connected(true);
  } catch {
    connected(false);
  } finally {
    busy = false;
  }
}

function listen() {
  if (!source || stream) return;
  stream = new EventSource(source);
  stream.addEventListener("news", (event) => {
    if (event.data === seen) return;
    seen = event.data;
    void refresh();
  });
  stream.addEventListener("open", () => connected(true));
  stream.addEventListener("error", () => connected(false));
}

function rest() {
  stream?.close();
  stream = null;
}

// A browser opens few connections to one server: a page nobody looks at gives its own back.
document.addEventListener("visibilitychange", () => {
  if (document.hidden) return rest();
  listen();
  void refresh();
});
addEventListener("pagehide", rest);
addEventListener("pageshow", (event) => {
  typing = new WeakSet();
  if (!document.hidden) listen();
  if (event.persisted) void refresh();
});
document.addEventListener("lampside-sent", () => void refresh());
setInterval(refresh, kEvery);
