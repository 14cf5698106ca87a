// What an eye and a keyboard find on a page. Contrast is reckoned by WCAG 2.2, its definition of terms (sRGB).
(() => {
  const opaque = (colour) => {
    const [red, green, blue, alpha = 1] = colour.match(/[\d.]+/g).map(Number);
    return alpha ? [red, green, blue] : null;
  };
  const style = (each) => getComputedStyle(each);
  function ground(each) {
    for (; each; each = each.parentElement) {
      const own = opaque(style(each).backgroundColor);
      if (own) return own;
    }
    return [255, 255, 255];
  }
  const linear = (part) => (part / 255 <= 0.04045 ? part / 255 / 12.92 : ((part / 255 + 0.055) / 1.055) ** 2.4);
  const luminance = ([red, green, blue]) => 0.2126 * linear(red) + 0.7152 * linear(green) + 0.0722 * linear(blue);
  function contrast(one, other) {
    const [dark, bright] = [luminance(one), luminance(other)].sort((a, b) => a - b);
    return (bright + 0.05) / (dark + 0.05);
  }
  const named = (each) =>
    (each.innerText || each.getAttribute("aria-label") || each.name || each.value || each.tagName)
      .trim().replace(/\s+/g, " ").slice(0, 40);
  function visible(each) {
    const place = each.getBoundingClientRect();
    const shown = each.checkVisibility({ checkOpacity: true, visibilityProperty: true });
    return shown && place.width > 1 && place.bottom > 0 && !each.closest(".sr");
  }

  function nextTap() {
    const probe = document.body.appendChild(document.createElement("i"));
    probe.style.background = "var(--blue-fill)";
    const blue = style(probe).backgroundColor;
    probe.remove();
    return blue;
  }
  function written(all) {
    const found = all.filter((each) => each.matches("select") || (each.matches("input") && each.value));
    const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    while (walk.nextNode()) {
      const own = walk.currentNode.parentElement;
      if (!walk.currentNode.textContent.trim() || own.closest("script, style, select")) continue;
      if (visible(own)) found.push(own);
    }
    return found;
  }
  // Words that lie over other words: their letters, not the room above and below them. The foot lies over the page.
  function overlaid() {
    const main = document.querySelector("main"), found = [], boxes = [];
    const walk = document.createTreeWalker(main, NodeFilter.SHOW_TEXT);
    while (walk.nextNode()) {
      const own = walk.currentNode.parentElement, range = document.createRange();
      if (!walk.currentNode.textContent.trim() || own.closest("script, style, select, .at-foot")) continue;
      if (!visible(own)) continue;
      range.selectNodeContents(walk.currentNode);
      for (const { left, right, top, bottom, height } of range.getClientRects()) {
        if (right - left < 2) continue;
        boxes.push({ own, left: left + 1, right: right - 1, top: top + height / 4, bottom: bottom - height / 4 });
      }
    }
    for (const [nth, one] of boxes.entries()) {
      for (const other of boxes.slice(nth + 1)) {
        if (one.own === other.own || one.left >= other.right || other.left >= one.right) continue;
        if (one.top >= other.bottom || other.top >= one.bottom) continue;
        found.push(`${named(one.own)} | ${named(other.own)}`);
      }
    }
    return found;
  }
  const ink = (each) => opaque(each.closest("svg") ? style(each).fill : style(each).color) ?? [0, 0, 0];
  function edge(each) {
    const around = ground(each.parentElement), line = opaque(style(each).borderTopColor) ?? around;
    return Math.max(contrast(ground(each), around), contrast(line, around));
  }
  function seen() {
    const all = [...document.querySelectorAll("body *")].filter(visible), blue = nextTap();
    const taps = all.filter((each) => each.matches(".tap, .hot-button"));
    return {
      filled: all.filter((each) => style(each).backgroundColor === blue).map(named),
      ratios: written(all).map((each) => [named(each), contrast(ink(each), ground(each))]),
      overlaid: overlaid(),
      edges: taps.map((each) => [named(each), edge(each)]),
      text: document.body.innerText,
      whole: document.body.textContent,
    };
  }

  function outlined(each) {
    if (!each || style(each).outlineStyle === "none" || parseFloat(style(each).outlineWidth) < 2) return false;
    const around = ground(parseFloat(style(each).outlineOffset) < 0 ? each : each.parentElement);
    return contrast(opaque(style(each).outlineColor) ?? around, around) >= 3;
  }
  function underTheFoot(each) {
    const foot = document.querySelector(".at-foot");
    if (!foot || foot.contains(each) || style(foot).position !== "sticky") return false;
    const own = each.getBoundingClientRect(), over = foot.getBoundingClientRect();
    return own.top >= over.top && own.bottom <= over.bottom;
  }
  // Notes where Tab stops until it has come round to the first link of the page.
  function follow() {
    document.querySelector(".skip").focus();
    window.stops = [];
    window.round = false;
    document.addEventListener("focusin", ({ target }) => {
      window.round ||= target.matches(".skip");
      if (window.round) return;
      const drawn = [target, target.closest(".box"), target.closest("label"), target.nextElementSibling].some(outlined);
      window.stops.push({ target, drawn, hidden: underTheFoot(target) });
    });
  }
  // The radios of one question are one stop: arrows go on from there.
  const question = (each) => (each.type === "radio" ? document.getElementsByName(each.name)[0] : each);
  function stopped() {
    const { stops } = window, reached = new Set(stops.map((each) => question(each.target)));
    const tapped = "a[href], button, input:not([type=hidden]), select, textarea, summary";
    const reachable = [...document.querySelectorAll(tapped)].filter(
      (each) => each.checkVisibility() && each.tabIndex >= 0 && !each.disabled && !each.matches(".skip"),
    );
    const before = (one, other) => one.compareDocumentPosition(other) & Node.DOCUMENT_POSITION_PRECEDING;
    const back = stops.filter((each, nth) => nth && before(stops[nth - 1].target, each.target));
    return {
      count: stops.length,
      missed: reachable.filter((each) => !reached.has(question(each))).map(named),
      unseen: stops.filter((each) => !each.drawn).map((each) => named(each.target)),
      covered: stops.filter((each) => each.hidden).map((each) => named(each.target)),
      back: back.map((each) => named(each.target)),
    };
  }
  return { seen, follow, stopped };
})()
