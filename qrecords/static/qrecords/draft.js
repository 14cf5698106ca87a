// What is typed and not yet sent is kept on this device, per person, mounting and page, until the server says
// that the form was recorded (cookie `recorded`). It outlives a reload, the way back and a browser that closes.
// The strip counts it as not yet sent, on whatever page of the mounting it was typed. Only the form's own fields of the work are kept: no password, no file.
const PREFIX = "qrecords-draft:";
const KEPT_DAYS = 7; // house rule: a draft nobody came back to for a week is forgotten
const form = document.querySelector("form[data-draft]");
const key = form && PREFIX + form.dataset.draft;

const ofTheWork = (field) => /^[a-z_]+\./.test(field.name) && !["hidden", "file", "password"].includes(field.type);

function read(name) {
  try {
    return JSON.parse(localStorage.getItem(name)) ?? null;
  } catch {
    return null; // no storage on this device, or not what this page wrote
  }
}

function write(draft) {
  try {
    if (Object.keys(draft.values).length) localStorage.setItem(key, JSON.stringify(draft));
    else localStorage.removeItem(key);
  } catch {
    // No storage: what is typed lives as long as the page, as it always did.
  }
  tell(draft);
}

const counted = (draft) => Object.keys(draft?.values ?? {}).filter((name) => !name.startsWith("unit:")).length;

function onOtherPages() {
  const mounting = key.split("/").slice(0, 2).join("/") + "/"; // the key is person/mounting/screen/part
  try {
    const others = Object.keys(localStorage).filter((name) => name.startsWith(mounting) && name !== key);
    return others.reduce((sum, name) => sum + counted(read(name)), 0);
  } catch {
    return 0; // no storage on this device
  }
}

function tell(draft) {
  const count = counted(draft) + onOtherPages();
  document.dispatchEvent(new CustomEvent("qrecords:unsent", { detail: { count } }));
}

function forgetOld() {
  const recorded = document.cookie.match(/(?:^|; )recorded=([0-9a-f-]+)/)?.[1];
  for (const name of Object.keys(localStorage).filter((each) => each.startsWith(PREFIX))) {
    const draft = read(name);
    const old = !draft || Date.now() - draft.at > KEPT_DAYS * 86_400_000;
    if (old || draft.entry === recorded) localStorage.removeItem(name);
  }
}

function keep(field) {
  const draft = read(key) ?? { values: {} };
  const unit = `unit:${field.name}`;
  const same = "sent" in form.dataset ? !field.value : field.value === field.defaultValue && field.type === "text";
  if (same) {
    delete draft.values[field.name];
    delete draft.values[unit];
  } else {
    draft.values[field.name] = field.value;
    const own = form.elements.namedItem(unit);
    if (own) draft.values[unit] = own.value;
  }
  write({ ...draft, at: Date.now(), entry: form.elements.namedItem("entry_id").value });
}

function put(name, value) {
  const field = form.elements.namedItem(name);
  if (!field && name.startsWith("unit:")) {
    form.append(Object.assign(document.createElement("input"), { type: "hidden", name, value }));
  } else if (field) {
    field.value = value; // of a choice, its radio
    delete field.dataset?.current;
    field.classList?.remove("current");
    field.closest?.("details")?.setAttribute("open", "");
  }
}

function putBack(draft) {
  for (const [name, value] of Object.entries(draft.values)) put(name, value);
  form.elements.namedItem("entry_id").value = draft.entry; // what arrived after all is not recorded twice
  const note = document.querySelector("[data-draft-note]");
  note.hidden = false;
  note.querySelector("button").addEventListener("click", () => {
    localStorage.removeItem(key);
    location.assign(form.action);
  });
}

try {
  forgetOld();
} catch {
  // No storage on this device.
}
if (form) {
  const draft = read(key);
  if (draft && !("sent" in form.dataset)) putBack(draft);
  for (const kind of ["input", "change"]) {
    form.addEventListener(kind, ({ target }) => {
      const field = target.name?.startsWith("unit:") ? form.elements.namedItem(target.name.slice(5)) : target;
      if (field?.name && ofTheWork(field) && (field === target || field.value)) keep(field);
    });
  }
  addEventListener("DOMContentLoaded", () => {
    tell(draft);
    if (draft) form.dispatchEvent(new Event("change", { bubbles: true })); // the verdict of what was put back
  });
}
