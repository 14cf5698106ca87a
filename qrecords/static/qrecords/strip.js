// The strip: the clock, and the offline mark as the device knows it. The queue of the offline app tells the
// number of entries not yet sent by dispatching `qrecords:unsent` on document with {detail: {count}}.
const clock = document.querySelector("[data-clock]");
function tick() {
  const now = new Date();
  clock.textContent = `${String(now.getHours()).padStart(2, "0")}:${String(now.getMinutes()).padStart(2, "0")}`;
  setTimeout(tick, 60_000 - (now.getSeconds() * 1000 + now.getMilliseconds()) + 50);
}
if (clock) tick();

const mark = document.querySelector("[data-offline-mark]");
function showMark(count = Number(mark.dataset.unsent)) {
  mark.dataset.unsent = String(count);
  const whole = navigator.onLine && count === 0;
  mark.querySelector("path").setAttribute("d", whole ? "M0 6H19" : "M0 6H7M6 1V11M13 1V11M12 6H19");
  const words = count > 0 ? `${count} ${mark.dataset.notSent}` : mark.dataset.allSent;
  const said = navigator.onLine ? words : count > 0 ? words : mark.dataset.noNetwork;
  const text = mark.querySelector("span");
  if (text.textContent.trim() !== said) text.textContent = said;
}
if (mark) {
  addEventListener("online", () => showMark());
  addEventListener("offline", () => showMark());
  document.addEventListener("qrecords:unsent", (event) => showMark(event.detail.count));
  if (!navigator.onLine) showMark();
}
