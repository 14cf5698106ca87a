// A verdict at once: when a reading changes, the form is posted as it stands to its data-live-form address and
// what stands in every element marked data-live is replaced by what its namesake in the answer holds; the element
// itself stays, so that a reader that speaks hears the change. Without network or script nothing
// is lost: the form's own button sends the same fields.
const form = document.querySelector("[data-live-form]");
let running = null;

async function refresh() {
  running?.abort();
  running = new AbortController();
  const body = new FormData(form);
  body.delete("own_password"); // belongs to the act, not to what is tried
  try {
    const answer = await fetch(form.dataset.liveForm, {
      method: "POST", body, redirect: "error", signal: running.signal, credentials: "same-origin",
    });
    if (!answer.ok) return;
    const page = new DOMParser().parseFromString(await answer.text(), "text/html");
    for (const old of document.querySelectorAll("[data-live]")) {
      const fresh = page.getElementById(old.id);
      // A question that is being answered stays until it is.
      if (fresh && !old.querySelector("input:not([type=hidden])")) old.replaceChildren(...fresh.childNodes);
    }
    if (document.querySelector(".verdict-not-proven")) navigator.vibrate?.([60, 80, 60]);
  } catch {
    // No network, or a newer reading overtook this one: what is shown stays until the next answer.
  }
}

if (form?.dataset.liveForm) form.addEventListener("change", refresh);
