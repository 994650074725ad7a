// @ts-check
// The night and the day look. Without a choice the system's own stands.
const root = document.documentElement;
const dark = matchMedia("(prefers-color-scheme: dark)");

function isNight() {
  return root.dataset.look ? root.dataset.look === "night" : dark.matches;
}

function say() {
  for (const button of document.querySelectorAll("[data-look-toggle]")) {
    const word = button.querySelector(".look-word");
    if (word) word.textContent = isNight() ? "Day" : "Night";
    button.setAttribute("aria-label", isNight() ? "Change to the day look" : "Change to the night look");
  }
}

document.addEventListener("click", (event) => {
  if (!(event.target instanceof Element) || !event.target.closest("[data-look-toggle]")) return;
  root.dataset.look = isNight() ? "day" : "night";
  try {
    localStorage.setItem("lampside-look", root.dataset.look);
  } catch {
    // Not kept: it lasts until the next page.
  }
  say();
});
dark.addEventListener("change", say);
say();
