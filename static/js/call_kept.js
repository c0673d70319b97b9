// What is tapped of a call stays in the browser until the next one, and so does the step it was at:
// neither a reload nor a closed tab loses anything. A run has an address of its own, so nobody else's
// taps are met; only those of the newest run are kept. Before calls.js on the page, which shows
// the step that is put back here.
(() => {
  "use strict";
  const kept = () => `calls ${location.pathname}`;
  const calling = () => document.querySelector("[data-calling]");
  const inputs = (form) => [...form.querySelectorAll("[data-step] input")];

  // Any step that is shown: whoever went on or back without a tap is there again too.
  document.addEventListener("stepped", ({ detail: { at } }) => {
    const form = calling();
    const taps = inputs(form).filter((i) => i.checked).map((i) => [i.name, i.value]);
    try {
      Object.keys(localStorage).filter((key) => key.startsWith("calls ") && key !== kept())
        .forEach((key) => localStorage.removeItem(key));
      localStorage.setItem(kept(), JSON.stringify([form.elements.call.value, taps, at]));
    } catch { /* full or forbidden: the page itself still has it */ }
  });
  const ready = () => {
    const form = calling();
    let [call, taps, at] = ["", [], 0];
    try { [call, taps, at] = JSON.parse(localStorage.getItem(kept())) ?? [call, taps, at]; } catch { return; }
    // What came back from the house has what was sent.
    if (!form || call !== form.elements.call.value || inputs(form).some((i) => i.defaultChecked)) return;
    inputs(form).forEach((i) => { i.checked = taps.some(([name, value]) => name === i.name && value === i.value); });
    form.dataset.at = at;
  };
  document.addEventListener("DOMContentLoaded", ready);
  document.addEventListener("htmx:afterSettle", ready);
})();
