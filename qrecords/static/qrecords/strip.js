// The strip: the clock, and the offline mark as the device knows it. The queue of the offline app tells how many
// entries wait by dispatching `qrecords:unsent` on document with {detail: {count}}.
const clock = document.querySelector("[data-clock]");
const mark = document.querySelector("[data-offline-mark]");

function tick() {
  const now = new Date();
  clock.textContent = [now.getHours(), now.getMinutes()].map((n) => String(n).padStart(2, "0")).join(":");
  setTimeout(tick, 60_000 - (now.getSeconds() * 1000 + now.getMilliseconds()) + 50);
}

function words(count) {
  if (count > 0) return `${count} ${mark.dataset.notSent}`;
  return navigator.onLine ? mark.dataset.allSent : mark.dataset.noNetwork;
}

function show() {
  const count = Number(mark.dataset.unsent);
  const whole = navigator.onLine && count === 0;
  mark.querySelector("path").setAttribute("d", whole ? "M0 6H19" : "M0 6H7M6 1V11M13 1V11M12 6H19");
  const text = mark.querySelector("span");
  if (text.textContent !== words(count)) text.textContent = words(count); // spoken only when it changes
}

if (clock) tick();
if (mark) {
  for (const event of ["online", "offline"]) addEventListener(event, show);
  document.addEventListener("qrecords:unsent", (event) => {
    mark.dataset.unsent = String(event.detail.count);
    show();
  });
  if (!navigator.onLine) show();
}
