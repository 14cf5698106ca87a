// While hot: seconds counted down, one tap guarded against its double, the undo window, the screen kept awake.
// A tap carries the moment at which it was made on this device; the form is sent by the page or its queue.
const form = document.querySelector("[data-hot]");

function left(until) {
  return Math.max(0, Math.ceil((Date.parse(until) - Date.now()) / 1000));
}

function buzz(pattern) {
  navigator.vibrate?.(pattern);
}

// At zero the number stays 0 and says what that means (*cooler than planned*, *let go*): no alarm.
function countDown(number) {
  const words = number.parentElement.querySelector("[data-at-zero]");
  const seconds = left(number.dataset.until);
  number.textContent = String(seconds);
  if (seconds > 0) return void setTimeout(countDown, 250, number);
  if (words?.dataset.atZero) words.textContent = words.dataset.atZero;
}

// The ring cools on its way: T_air + (T0 − T_air)·e^(−t/τ), rounded down, in the picture and in its words.
function fall(pointer) {
  const { startC, airC, tauS, noughtAt, pxPerK, top, bottom, drawnAt } = Object.fromEntries(
    Object.entries(pointer.dataset).map(([name, text]) => [name, Number(text)]),
  );
  const carried = Math.max(0, (Date.now() - Date.parse(pointer.dataset.fallingSince)) / 1000);
  const least = Math.floor(airC + (startC - airC) * Math.exp(-carried / tauS));
  const shown = pointer.querySelector(".worked-out");
  const words = pointer.ownerSVGElement.querySelector("desc");
  if (shown.textContent !== `(${least})`) {
    words.textContent = words.textContent.replace(shown.textContent, `(${least})`);
    shown.textContent = `(${least})`;
    const at = Math.min(Math.max(noughtAt - pxPerK * least, top), bottom);
    pointer.setAttribute("transform", `translate(0 ${at - drawnAt})`);
  }
  setTimeout(fall, 1000, pointer);
}

function closeUndo(button) {
  const seconds = left(button.dataset.undoUntil);
  const shown = button.querySelector("[data-seconds]");
  if (shown) shown.textContent = `${seconds} s`;
  if (seconds > 0) setTimeout(closeUndo, 250, button);
  else button.disabled = true;
}

function holdOn(button) {
  if (left(button.dataset.until) > 0) return void setTimeout(holdOn, 250, button);
  button.classList.remove("holding"); // the seconds are up: *let go* becomes the next tap
  if (button.dataset.atZero) button.querySelector(".line").textContent = button.dataset.atZero;
  buzz(600);
}

function stamp(event) {
  const button = event.submitter;
  if (!button) return;
  if (form.dataset.sentAt && Date.now() - Number(form.dataset.sentAt) < 1500) return void event.preventDefault();
  form.dataset.sentAt = String(Date.now());
  let field = form.querySelector('input[name="at_device"]');
  if (!field) {
    field = document.createElement("input");
    field.type = "hidden";
    field.name = "at_device";
    form.append(field);
  }
  field.value = new Date().toISOString();
  buzz(40);
}

async function stayAwake() {
  try {
    await navigator.wakeLock?.request("screen");
  } catch {
    // The device may refuse (battery saver): the page works the same, the screen may dim.
  }
}

for (const number of document.querySelectorAll("[data-countdown][data-until]")) countDown(number);
for (const pointer of document.querySelectorAll("[data-falling-since]")) fall(pointer);
for (const button of document.querySelectorAll("[data-undo-until]")) if (button.dataset.undoUntil) closeUndo(button);
for (const button of document.querySelectorAll(".holding[data-until]")) holdOn(button);
if (form) {
  form.addEventListener("submit", stamp);
  stayAwake();
  document.addEventListener("visibilitychange", () => document.visibilityState === "visible" && stayAwake());
  // A foot switch or a helper's keyboard types space or Enter: it makes the one big tap.
  document.addEventListener("keydown", (event) => {
    const button = form.querySelector("[data-hot-tap]");
    if (!button || event.repeat || (event.key !== " " && event.key !== "Enter")) return;
    if (document.activeElement !== document.body) return;
    event.preventDefault();
    form.requestSubmit(button);
  });
}
