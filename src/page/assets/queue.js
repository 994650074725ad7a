// @ts-check
// Entries outlive a lost connection: what cannot be sent is kept on this phone with the moment it was tapped, and sent
// when the connection is back. Each entry carries its own id, so sending it twice writes it once.
const kKey = "lampside-waiting";
const opened = performance.now();
const asOf = Date.parse(document.querySelector(".as-of time")?.getAttribute("datetime") ?? "");
const bar = document.querySelector(".waiting-state");
let sending = false;

/** The server's time, as far as this page knows it: a phone's own clock may be wrong. */
function now() {
  return new Date(Number.isNaN(asOf) ? Date.now() : asOf + performance.now() - opened);
}

/** @typedef {{action: string, body: string, said: string, refused?: boolean}} Waiting */
/** @returns {Waiting[]} */
function waiting() {
  try {
    return JSON.parse(localStorage.getItem(kKey) ?? "[]");
  } catch {
    return [];
  }
}

/** @param {Waiting[]} list */
function keep(list) {
  localStorage.setItem(kKey, JSON.stringify(list));
  say();
}

function say() {
  if (!bar) return;
  const list = waiting();
  const refused = list.filter((w) => w.refused);
  const said = list.map((w) => w.said).join("; ");
  bar.textContent = list.length === 0 ? ""
    : refused.length === list.length ? `Could not be written down: ${said}. Write it down again by hand.`
    : `Kept on this phone until the connection is back: ${said}`;
}

/** UUID version 4, also where the page is not encrypted and randomUUID is missing. */
function freshId() {
  const b = crypto.getRandomValues(new Uint8Array(16));
  b[6] = (b[6] & 15) | 64;
  b[8] = (b[8] & 63) | 128;
  const hex = [...b].map((x) => x.toString(16).padStart(2, "0")).join("");
  return [hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20), hex.slice(20)].join("-");
}

/** @param {string} action @param {string} body */
async function post(action, body) {
  const stop = new AbortController();
  const late = setTimeout(() => stop.abort(), 8000);
  try {
    return await fetch(action, { method: "POST", body, signal: stop.signal, headers: { "content-type": "application/x-www-form-urlencoded" } });
  } finally {
    clearTimeout(late);
  }
}

/** A token of today's server: it may have been started anew meanwhile. */
async function freshToken() {
  const answer = await fetch(location.pathname, { cache: "no-store" });
  const page = new DOMParser().parseFromString(await answer.text(), "text/html");
  return page.querySelector("input[name=token]")?.getAttribute("value") ?? "";
}

async function send() {
  if (sending) return;
  sending = true;
  let sent = 0;
  try {
    for (const one of waiting().filter((w) => !w.refused)) {
      let answer = await post(one.action, one.body);
      if (answer.status === 403) {
        const body = new URLSearchParams(one.body);
        body.set("token", await freshToken());
        answer = await post(one.action, body.toString());
      }
      const id = new URLSearchParams(one.body).get("id");
      const rest = waiting();
      const mine = rest.find((w) => new URLSearchParams(w.body).get("id") === id);
      if (answer.redirected || answer.ok) {
        keep(rest.filter((w) => w !== mine));
        sent++;
      } else if (answer.status < 500 && mine) {
        mine.refused = true;  // kept and shown: nothing typed is lost
        keep(rest);
      } else {
        break;
      }
    }
  } catch {
    // Still no connection: they wait on.
  } finally {
    sending = false;
  }
  if (sent > 0) document.dispatchEvent(new Event("lampside-sent"));
}

/** Forms in which something was typed or chosen since the page came. @type {Set<HTMLFormElement>} */
const typedIn = new Set();
document.addEventListener("input", (event) => {
  const form = event.target instanceof Element ? event.target.closest("form") : null;
  if (form?.action.endsWith("/record")) typedIn.add(form);
});

/** What stands in a form and is not written down yet, for a person. @param {HTMLFormElement} form */
function unsaved(form) {
  return [...form.elements].flatMap((e) => {
    if (e instanceof HTMLInputElement && (e.type === "radio" || e.type === "checkbox"))
      return e.checked && !e.defaultChecked ? [e.closest("label")?.textContent?.trim() || e.value] : [];
    const text = (e instanceof HTMLInputElement && e.type !== "hidden") || e instanceof HTMLTextAreaElement;
    return text && e.value.trim() && e.value !== e.defaultValue ? [e.value.trim()] : [];
  }).join(", ");
}

/** @param {HTMLFormElement} form */
function fieldsOf(form) {
  const fields = new URLSearchParams();
  for (const [name, value] of new FormData(form)) fields.append(name, String(value));
  return fields;
}

/** A tap elsewhere must not throw away what was typed: it is asked about, and sent first. @param {HTMLFormElement} but */
function alsoTyped(but) {
  typedIn.delete(but);
  const others = [...typedIn].filter((f) => f.isConnected && unsaved(f) && f.checkValidity());
  const said = others.map(unsaved).join("; ");
  return others.length > 0 && confirm(`Typed but not saved yet: ${said}. Save it too?`) ? others : [];
}

document.addEventListener("submit", (event) => {
  const form = event.target;
  if (event.defaultPrevented || !(form instanceof HTMLFormElement) || !form.action.endsWith("/record")) return;
  event.preventDefault();
  const fields = fieldsOf(form);
  const tapped = now();
  const first = alsoTyped(form).map((f) => ({ action: f.action, body: fieldsOf(f).toString(), said: unsaved(f) }));
  const button = event.submitter ?? form.querySelector("button[type=submit]");
  // Kept like any entry: what fails now is sent again, or shown as refused.
  if (first.length > 0) keep([...waiting(), ...first]);
  void (first.length > 0 ? send() : Promise.resolve()).then(() => post(form.action, fields.toString())).then((answer) => {
    if (answer.redirected) location.assign(answer.url);
    else form.submit();  // refused: the server's own page says why, with what was typed
  }, () => {
    fields.set("tapped", tapped.toISOString());  // counts where no other time was typed
    const clock = tapped.toLocaleTimeString("en-GB", { hour: "2-digit", minute: "2-digit" });
    keep([...waiting(), { action: form.action, body: fields.toString(), said: `${button?.textContent?.trim() ?? "entry"}, ${clock}` }]);
    const id = form.querySelector("input[name=id]");
    if (id instanceof HTMLInputElement) id.value = freshId();  // the next tap is another entry
    document.dispatchEvent(new Event("lampside-kept"));
  });
});

addEventListener("online", () => void send());
setInterval(() => { if (waiting().length) void send(); }, 10000);
say();
void send();
