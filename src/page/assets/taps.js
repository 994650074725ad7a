// @ts-check
// Fingers: the keypad, and guards against a second tap that nobody meant.

/** @type {HTMLInputElement | null} */
const reading = document.querySelector("input[data-reading]");
/** @type {HTMLInputElement | null} */
const tub = document.querySelector("input[name=tub]");
const net = document.querySelector(".net");

/** A bare number of grams, or nothing. @param {string} typed */
function grams(typed) {
  const m = /^\s*(\d+(?:[.,]\d+)?)\s*g?\s*$/.exec(typed);
  return m ? Number(m[1].replace(",", ".")) : null;
}

/** Says what will be written once the tub is off; the server does the sum that counts. */
function showNet() {
  if (!net || !reading || !tub || reading.dataset.reading !== "g") return;
  const whole = grams(reading.value);
  const off = grams(tub.value);
  const pup = whole !== null && off !== null ? Math.round((whole - off) * 10) / 10 : null;
  net.textContent = pup === null ? "" : `pup ${pup} g`;
}

/** @param {string} key */
function press(key) {
  if (!reading) return;
  if (key === "back") {
    reading.value = reading.value.replace(/( lb | \d\/\d|.)$/, "");
  } else if (key !== "." || !/[.,]\d*$/.test(reading.value)) {
    reading.value += key;
  }
  reading.dispatchEvent(new Event("input", { bubbles: true }));
}

if (reading) {
  reading.inputMode = "none";  // the phone's own keyboard would cover ours
  reading.focus({ preventScroll: true });
  reading.addEventListener("input", showNet);
  tub?.addEventListener("input", showNet);
  // "1 lb 2 3/8" means ounces at the end; the reader of weights wants to be told.
  reading.form?.addEventListener("submit", () => {
    if (/lb\s*\d[\d\s/.,]*$/.test(reading.value)) reading.value = `${reading.value.trim()} oz`;
  });
}

document.addEventListener("click", (event) => {
  const key = event.target instanceof Element ? event.target.closest("[data-key]") : null;
  if (key) press(key.getAttribute("data-key") ?? "");
});

// The button for the next pup sleeps for a moment after a birth was written down.
const guarded = document.querySelector(".guarded .born");
if (guarded instanceof HTMLButtonElement) {
  guarded.disabled = true;
  setTimeout(() => (guarded.disabled = false), 2500);
}

// One submit a form until the next page comes; the same form again would be a replay anyway.
const sent = new WeakSet();
document.addEventListener("submit", (event) => {
  const form = event.target;
  if (!(form instanceof HTMLFormElement)) return;
  if (sent.has(form)) return event.preventDefault();
  sent.add(form);
  form.classList.add("sent");
  setTimeout(() => {
    sent.delete(form);
    form.classList.remove("sent");
  }, 6000);
});
