// @ts-check
// Keeps the clocks running. The server says how old a moment was when it made the page; only the time since is ours,
// so a phone whose clock is wrong shows the right age.
/** @type {WeakMap<Element, number>} */
const begun = new WeakMap();

/** The same words the server uses. @param {number} ms */
export function sayAge(ms) {
  const minutes = Math.floor(ms / 60000);
  const hours = Math.floor(minutes / 60);
  const days = Math.floor(hours / 24);
  if (days > 0) return `${days} d` + (hours % 24 ? ` ${hours % 24} h` : "");
  if (hours > 0) return `${hours} h` + (minutes % 60 ? ` ${minutes % 60} min` : "");
  return `${minutes} min`;
}

function tick() {
  const now = Date.now();
  for (const clock of document.querySelectorAll("[data-elapsed]")) {
    let start = begun.get(clock);
    if (start === undefined) {
      start = now - Number(clock.getAttribute("data-elapsed"));
      begun.set(clock, start);
    }
    const age = Math.max(0, now - start);
    const said = clock.classList.contains("ago") ? (age < 60000 ? "just now" : `${sayAge(age)} ago`) : sayAge(age);
    if (clock.textContent !== said) clock.textContent = said;
  }
}

tick();
setInterval(tick, 1000);
document.addEventListener("lampside-refreshed", tick);
