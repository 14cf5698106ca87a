// The keypad drives the inputs of a reading grid. Without this script the device's own pad serves.
// It changes only text: what a typed figure means is read by the server, once.
const pad = document.querySelector("[data-keypad]");
const grid = document.querySelector("[data-reading-grid]");
const digits = () => Number(pad.dataset.digits); // after so many figures it goes on by itself; 0: never
const cells = grid ? [...grid.querySelectorAll("input")] : [];
let current = cells.find((cell) => "current" in cell.dataset) ?? cells.find((cell) => !cell.value) ?? cells[0];
let fresh = true; // the next digit replaces what stood in the cell
let touched = false; // something was typed since the hand came to the cell
let leftByItself = null; // the number the pad went on from: a mark, back or next typed next still belongs to it
let byHand = false; // the hand chose this cell: the pad goes on only when told to, so that it takes any number

function choose(cell, focus = true) {
  leftByItself = null;
  byHand = false;
  current?.classList.remove("current");
  current = cell;
  fresh = true;
  touched = false;
  current.classList.add("current");
  if (focus && document.activeElement !== cell) {
    cell.focus({ preventScroll: true });
    cell.scrollIntoView({ block: "nearest" }); // by no more than brings it out from under the pad
  }
}

// Down the plane first, as the gauge goes round the shaft, then on to the next plane.
function order() {
  const rows = [...grid.tBodies[0].rows].map((row) => [...row.querySelectorAll("input")]);
  return rows[0].flatMap((_, column) => rows.map((row) => row[column])).filter(Boolean);
}

function next() {
  const round = order();
  const empty = round.slice(round.indexOf(current) + 1).find((cell) => !cell.value); // behind the last it sends
  current.dispatchEvent(new Event("change", { bubbles: true }));
  if (empty) choose(empty);
  return Boolean(empty);
}

function put(text) {
  current.value = text;
  fresh = false;
  current.dispatchEvent(new Event("input", { bubbles: true }));
}

function press(key) {
  const typed = fresh ? "" : current.value;
  if (/^\d$/.test(key)) {
    leftByItself = null;
    put(typed + key);
    const count = current.value.replace(/\D/g, "").length;
    if (!byHand && digits() && count >= digits() && !/[.,]/.test(current.value)) {
      const left = current;
      if (next()) leftByItself = left;
    }
  } else if (key === "mark" && leftByItself) {
    const mark = pad.querySelector('[data-key="mark"]').textContent.trim();
    choose(leftByItself);
    put(current.value + mark);
  } else if (key === "mark") {
    const mark = pad.querySelector('[data-key="mark"]').textContent.trim();
    if (!/[.,]/.test(typed)) put((typed || "0") + mark);
  } else if (key === "sign") {
    const bare = current.value.replace(/^[+\-−]/, "");
    put(/^[-−]/.test(current.value) ? bare : `−${bare}`);
  } else if (key === "back") {
    if (leftByItself) {
      choose(leftByItself);
      byHand = true;
    }
    put(current.value.slice(0, -1));
  }
}

function buzz(pattern) {
  navigator.vibrate?.(pattern);
}

if (pad && cells.length) {
  pad.hidden = false;
  for (const cell of cells) {
    cell.inputMode = "none"; // our pad is there; a keyboard or a gauge that types still reaches the cell
    cell.addEventListener("focus", () => cell === current || choose(cell, false));
    cell.addEventListener("pointerdown", () => {
      choose(cell, false);
      byHand = true;
    });
    cell.addEventListener("input", () => (touched = true));
    cell.addEventListener("keydown", (event) => {
      // Tab leaves a cell just typed in for the next empty one, and every other as everywhere.
      const onward = event.key === "Enter" || (event.key === "Tab" && !event.shiftKey && touched && cell.value);
      if (onward && next()) event.preventDefault();
    });
  }
  pad.addEventListener("pointerdown", (event) => {
    if (event.target.closest("button")) event.preventDefault(); // the cell keeps the focus
  });
  pad.addEventListener("click", (event) => {
    const key = event.target.closest("button")?.dataset.key;
    if (!key || key === "not-measured") {
      if (key && current) event.target.closest("button").value = current.name;
      return;
    }
    buzz(20);
    if (key === "next" && leftByItself && !current.value) {
      choose(current); // it went on already
      current.scrollIntoView({ block: "nearest" });
      event.preventDefault();
      return;
    }
    if (key === "next") {
      if (next()) event.preventDefault(); // the last reading sends the form
      return;
    }
    event.preventDefault();
    press(key);
  });
  choose(current, false);
  const wrong = document.querySelector("main [aria-invalid]");
  const asked = document.querySelector("#questions .questions");
  if (wrong || !asked) (wrong ?? current).focus({ preventScroll: true });
  asked?.scrollIntoView({ block: "start" }); // what is asked stands in sight, above the pad
  wrong?.scrollIntoView({ block: "nearest" }); // and the field it is about, however small the glass
}
