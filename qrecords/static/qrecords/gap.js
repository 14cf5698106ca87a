// The gap dial: choosing a sector moves the blue outline and the question at once; the blade is a plain submit.
const dial = document.querySelector("[data-dial]");
const asked = document.querySelector("[data-asked-angle]");

function show(input) {
  const outline = dial.querySelector("[data-chosen-outline]");
  const own = dial.querySelector(`[data-sector="${input.value}"]`);
  if (outline && own) outline.setAttribute("d", own.getAttribute("d"));
  for (const text of dial.querySelectorAll("[data-angle]")) text.classList.toggle("blue", text.dataset.angle === input.value);
  if (asked) asked.textContent = `${input.value}°:`;
  for (const blade of document.querySelectorAll("[data-blade].chosen")) {
    blade.classList.remove("chosen");
    blade.removeAttribute("aria-pressed");
  }
}

if (dial) {
  dial.addEventListener("change", (event) => show(event.target));
  dial.addEventListener("click", () => navigator.vibrate?.(20));
}
