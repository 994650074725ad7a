// @ts-check
// Runs before the first paint: that scripts are on, and the look chosen on this device. Nothing may jump afterwards.
(() => {
  const root = document.documentElement;
  root.classList.add("js");
  try {
    const look = localStorage.getItem("lampside-look");
    if (look === "night" || look === "day") root.dataset.look = look;
  } catch {
    // Storage may be forbidden: the system's choice stands.
  }
})();
