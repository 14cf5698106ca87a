// The fitter's pages with script: photos go off at once, the unit key turns the unit, a sign key turns the sign.
// Nothing here reads a number: the server does, once. Without script the form's own buttons send the same fields.
const form = document.querySelector("form.two-hands-form");
const unit = document.querySelector("[data-grid-unit]");

// What is focused comes out from under the foot, however tall its verdict is or becomes (WCAG 2.2, 2.4.11).
const foot = document.querySelector(".at-foot");
if (foot) {
  const bringOut = () => {
    const stays = getComputedStyle(foot).position === "sticky";
    document.documentElement.style.scrollPaddingBottom = stays ? `${foot.offsetHeight + 8}px` : "";
    const inHand = document.activeElement;
    if (stays && inHand.matches("main input") && !foot.contains(inHand)) inHand.scrollIntoView({ block: "nearest" });
  };
  new ResizeObserver(bringOut).observe(foot);
  document.addEventListener("focusin", bringOut); // the pad chooses its first cell after the foot was measured
}

function buzz(pattern) {
  navigator.vibrate?.(pattern);
}

for (const key of document.querySelectorAll("[data-sign-of]")) {
  key.addEventListener("click", () => {
    const input = document.getElementById(key.dataset.signOf);
    input.value = /^[-−]/.test(input.value) ? input.value.slice(1) : `−${input.value.replace(/^\+/, "")}`;
    input.dispatchEvent(new Event("input", { bubbles: true }));
    input.focus();
  });
}

// A keyboard at a desk: Enter goes on to the next empty input, behind the last it sends; the pad has its own order.
const open = (each) => each.checkVisibility() && !each.value && each.getAttribute("enterkeyhint") === "next";
form?.addEventListener("keydown", (event) => {
  const from = event.target;
  if (event.key !== "Enter" || event.defaultPrevented || from.getAttribute("enterkeyhint") !== "next") return;
  if (document.querySelector("[data-keypad]") && from.closest("[data-reading-grid]")) return;
  const round = [...form.querySelectorAll("input")];
  const empty = round.slice(round.indexOf(from) + 1).find(open);
  if (!empty) return;
  event.preventDefault();
  empty.focus();
});
// Enter in the password means the button it stands above, not the first one of the form.
for (const field of document.querySelectorAll("[data-enter]")) {
  field.addEventListener("keydown", (event) => {
    if (event.key !== "Enter") return;
    event.preventDefault();
    form.requestSubmit(document.getElementById(field.dataset.enter));
  });
}
document.querySelector("main [aria-invalid]")?.focus(); // what is asked back is where the hand goes on

// What is typed anew is typed in the unit shown now; what stood there keeps its own.
function ownUnit(cell) {
  const known = form.querySelector(`input[name="unit:${CSS.escape(cell.name)}"]`);
  const field = known ?? Object.assign(document.createElement("input"), { type: "hidden", name: `unit:${cell.name}` });
  field.value = unit.value;
  if (!known) form.append(field);
}

// A cell whose figure has another unit than the one shown now says so.
function showCellUnits(cells) {
  for (const cell of cells) {
    const own = form.querySelector(`input[name="unit:${CSS.escape(cell.name)}"]`)?.value;
    const option = [...unit.options].find((each) => each.value === own);
    cell.parentElement.querySelector(".cell-unit")?.remove();
    if (!cell.value || !option || own === unit.value) continue;
    cell.after(Object.assign(document.createElement("span"), { className: "cell-unit", textContent: option.textContent }));
  }
}

const unitKey = document.querySelector('[data-key="unit"]');

function showUnit(select) {
  const words = select.selectedOptions[0].textContent.split(" ");
  const lines = words.length > 1 ? [words[0], words.slice(1).join(" ")] : words;
  unitKey.replaceChildren(...lines.map((line) => Object.assign(document.createElement("span"), { textContent: line })));
}

function turn(select) {
  select.selectedIndex = (select.selectedIndex + 1) % select.options.length;
  showUnit(select);
  select.dispatchEvent(new Event("change", { bubbles: true }));
}

if (unit && unitKey) {
  // One unit for a grid of readings: a deviation is whole after so many figures, a whole size never surely.
  const pad = document.querySelector("[data-keypad]");
  const cells = document.querySelectorAll("[data-reading-grid] input");
  const follow = () => {
    showUnit(unit);
    showCellUnits(cells);
    const deviation = unit.value.includes(" from ");
    pad.dataset.digits = deviation ? pad.dataset.deviationDigits : "0";
    document.querySelector("[data-reading-grid]").classList.toggle("whole", !deviation);
  };
  for (const cell of cells) {
    cell.addEventListener("input", () => {
      ownUnit(cell);
      showCellUnits([cell]);
    });
  }
  unitKey.addEventListener("click", () => turn(unit));
  unit.addEventListener("change", follow);
} else if (unitKey) {
  // A unit for every row: the key shows and turns the one of the row in hand.
  const list = document.querySelector("[data-reading-grid]");
  const inHand = () => (list.querySelector("input.current") ?? list.querySelector("input"))?.closest("tr").querySelector("[data-row-unit]");
  const follow = () => inHand() && showUnit(inHand());
  list.addEventListener("focusin", () => setTimeout(follow));
  list.addEventListener("change", () => setTimeout(follow));
  unitKey.addEventListener("click", () => inHand() && turn(inHand()));
  setTimeout(follow);
}

// At a hold point: the page asks whether the inspector has released or decided, and shows it. A name that is being
// typed there is not taken away by a decision: only what is released ends the waiting.
const waits = document.querySelector("[data-waits]");
async function lookAgain() {
  try {
    const answer = await fetch(location.href, { credentials: "same-origin" });
    const now = answer.ok && (await answer.text()).match(/data-waits="([^"]*)"/)?.[1];
    const typing = document.activeElement.matches("main input");
    if (answer.ok && (!now || (now !== waits.dataset.waits && !typing))) return void location.reload();
  } catch {
    // No network: the next look is in a few seconds.
  }
  setTimeout(lookAgain, 5000);
}

if (waits) setTimeout(lookAgain, 5000);

const shots = document.querySelector("[data-photos]");

function say(shot, words) {
  const state = shot.querySelector("[data-shot-state]");
  if (state) state.textContent = words;
}

// A refusal stands in the row of its photo with the reason and what to do; the other rows keep theirs.
function refuse(shot, why) {
  const message = shot.querySelector("[data-shot-message]");
  message.textContent = why;
  message.hidden = !why;
  const tap = shot.querySelector(".camera-tap > span");
  tap.dataset.first ??= tap.textContent;
  tap.textContent = why ? shots.dataset.again : tap.dataset.first;
}

async function send(input) {
  const shot = input.closest("[data-shot]");
  const before = shot.querySelector("[data-shot-state]").textContent;
  const body = new FormData();
  body.append("csrfmiddlewaretoken", form.querySelector('input[name="csrfmiddlewaretoken"]').value);
  body.append("at_device", new Date().toISOString());
  for (const file of input.files) body.append(input.name, file);
  refuse(shot, "");
  say(shot, "…");
  try {
    const answer = await fetch(shots.dataset.photos, {
      method: "POST", body, headers: { Accept: "application/json" }, credentials: "same-origin", redirect: "error",
    });
    const told = await answer.json();
    if (told.refused.length) throw new Error(told.refused.join(" "));
    input.value = "";
    shot.classList.add("taken");
    say(shot, shots.dataset.received);
    buzz(40);
  } catch (error) {
    // It stays in the form and goes with its next tap.
    const refused = error.name === "Error";
    if (refused) input.value = "";
    refuse(shot, refused ? error.message : "");
    say(shot, refused ? before : shots.dataset.kept);
    buzz([60, 80, 60]);
  }
}

shots?.addEventListener("change", (event) => {
  if (event.target.type === "file" && event.target.files.length) {
    event.stopPropagation();
    send(event.target);
  }
});
document.cookie = `zone=${Intl.DateTimeFormat().resolvedOptions().timeZone}; path=/; max-age=31536000; samesite=lax`;
