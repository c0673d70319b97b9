// What is tapped and typed while a hire is watched or asked stays until it is on record (on_record.js),
// in this tab, or where there are no words in it (data-kept-closed) also once the tab is closed, and the
// clock runs on. It is one person's (data-kept): on a shared tablet nobody meets another's taps. A form
// whose steps have changed meanwhile begins anew.
(() => {
  "use strict";
  const LONGEST_MS = 60 * 60 * 1000; // as long as the clock runs
  const form = document.querySelector("form[data-kept]");
  const shelf = () => (form.hasAttribute("data-kept-closed") ? localStorage : sessionStorage);
  const where = () => `kept ${location.pathname}${location.search}`;
  const ticked = (field) => field.type === "checkbox" || field.type === "radio";
  const fields = () => [...form.querySelectorAll("input, select, textarea")].filter((field) =>
    field.name && !/^(csrfmiddlewaretoken|form_key|form_by|build|ticket|build-\d+|sure|item|shown)$/.test(field.name));
  const state = () => fields().map((field) => (ticked(field) ? field.checked : field.value));
  const print = () => fields().map((field) => `${field.name}=${ticked(field) ? field.value : ""}`).join("&");
  const clocks = () => [...form.querySelectorAll("[data-clock]")].map((clock) => clock.dataset);

  const read = () => {
    try {
      const kept = JSON.parse(shelf().getItem(where()));
      const ours = kept?.by === form.dataset.kept && kept.print === print();
      return ours && Date.now() - kept.at < LONGEST_MS ? kept : null;
    } catch { return null; }
  };
  const write = () => {
    const kept = { by: form.dataset.kept, page: form.elements.form_key.value, print: print(), at: Date.now(), state: state() };
    kept.times = clocks().map(({ before = "", since = "" }) => [before, since]);
    form.dispatchEvent(new CustomEvent("kept", { detail: kept })); // to the house as well (kept_there.js)
    try { shelf().setItem(where(), JSON.stringify(kept)); } catch { /* full or forbidden: the page itself still has it */ }
  };
  const put = ({ state: was, times }) => {
    fields().forEach((field, n) => { field[ticked(field) ? "checked" : "value"] = was[n]; });
    clocks().forEach((clock, n) => { [clock.before, clock.since] = times[n]; });
    form.querySelectorAll("details").forEach((more) => {
      more.open ||= [...more.querySelectorAll("input, textarea")].some((f) => (ticked(f) ? f.checked !== f.defaultChecked : f.value));
    });
    form.querySelector("[data-kept-said]").hidden = false;
  };
  // Afresh, or too old: a note in words doesn't lie about on a shared tablet.
  const isOld = (key) => key.startsWith("kept ") && Date.now() - JSON.parse(shelf()[key]).at > LONGEST_MS;
  const forget = (which) => {
    try { Object.keys(shelf()).filter(which).forEach((key) => shelf().removeItem(key)); } catch { /* nothing was kept */ }
  };

  if (form) document.addEventListener("DOMContentLoaded", () => {
    forget(isOld);
    if (form.getAttribute("action")) history.replaceState(history.state, "", form.action); // a reload draws the same ticket
    const kept = read();
    const differs = kept && (String(kept.state) !== String(state()) || kept.times.flat().some(Boolean));
    if (differs && !form.hasAttribute("data-sent")) { put(kept); write(); } // what came back has what was sent
    for (const kind of ["change", "input", "click"]) form.addEventListener(kind, () => setTimeout(write));
    form.querySelector("[data-kept-fresh]").addEventListener("click", (event) => {
      event.stopPropagation(); forget((key) => key === where());
      if (form.dispatchEvent(new CustomEvent("afresh", { cancelable: true }))) location.reload();
    });
    // Back after it was put on record: a page out of the browser's memory would send it again.
    window.addEventListener("pageshow", (event) => event.persisted && location.reload());
  });
})();
