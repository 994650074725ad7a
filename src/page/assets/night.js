// @ts-check
// The night: the screen stays awake where the browser allows it; a new red flag sounds and shakes the phone.
const kKey = "lampside-alarm";
const awake = document.querySelector("[data-awake]");
const alarm = document.querySelector("[data-alarm]");
/** @type {AudioContext | null} */
let audio = null;
/** @type {WakeLockSentinel | null} */
let lock = null;

/** @param {string} key */
function stored(key) {
  try {
    return localStorage.getItem(key);
  } catch {
    return null;
  }
}

async function stayAwake() {
  const says = awake?.querySelector(".says");
  if (!("wakeLock" in navigator)) {
    if (says) says.textContent = "This browser cannot keep the screen on: set it in the phone";
    return;
  }
  try {
    lock = await navigator.wakeLock.request("screen");
    lock.addEventListener("release", () => { if (says) says.textContent = "The screen may go dark"; });
    if (says) says.textContent = "The screen stays on";
  } catch {
    if (says) says.textContent = "The screen may go dark: tap to keep it on";
  }
}

/** Three rising tones, twice, and a shake. */
function ring() {
  navigator.vibrate?.([300, 150, 300, 150, 600]);
  audio ??= new AudioContext();
  void audio.resume();
  const begin = audio.currentTime;
  for (let i = 0; i < 6; i++) {
    const tone = audio.createOscillator(), loud = audio.createGain();
    tone.frequency.value = [660, 880, 1100][i % 3];
    tone.connect(loud).connect(audio.destination);
    const at = begin + i * 0.25;
    loud.gain.setValueAtTime(0.0001, at);
    loud.gain.exponentialRampToValueAtTime(0.4, at + 0.03);
    loud.gain.exponentialRampToValueAtTime(0.0001, at + 0.22);
    tone.start(at);
    tone.stop(at + 0.24);
  }
  document.body.dataset.rang = String(Number(document.body.dataset.rang ?? "0") + 1);
}

function say() {
  const says = alarm?.querySelector(".says");
  if (says) says.textContent = stored(kKey) === "on" ? "Sound is on: tap to test" : "Sound is off: tap to turn on and test";
}

alarm?.addEventListener("click", () => {
  try {
    localStorage.setItem(kKey, "on");
  } catch {
    // Not kept: it holds for this page.
  }
  ring();
  say();
});
awake?.addEventListener("click", () => void stayAwake());
document.addEventListener("visibilitychange", () => {
  if (awake && !document.hidden) void stayAwake();
});

/** Rings once for each flag, whatever page it first shows on. @param {string[]} flags */
function flagged(flags) {
  /** @type {string[]} */
  let known = [];
  try {
    known = JSON.parse(sessionStorage.getItem("lampside-flags") ?? "[]");
    sessionStorage.setItem("lampside-flags", JSON.stringify(flags));
  } catch {
    // Unknown: ring rather than not.
  }
  if (stored(kKey) === "on" && flags.some((flag) => !known.includes(flag))) ring();
}
const urgent = () => [...document.querySelectorAll(".level-emergency h3, .level-call_vet h3, .urgent .headline")].map((h) => h.textContent ?? "");

say();
if (awake) void stayAwake();
flagged(urgent());
document.addEventListener("lampside-refreshed", () => flagged(urgent()));
