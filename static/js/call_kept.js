// What is tapped of a call stays in the browser until the next one: neither a reload nor a closed
// tab loses anything. A run has an address of its own, so nobody else's taps are met; only those of
// the newest run are kept.
(() => {
  "use strict";
  const kept = () => `calls ${location.pathname}`;
  const calling = () => document.querySelector("[data-calling]");
  const inputs = (form) => [...form.querySelectorAll("[data-step] input")];

  document.addEventListener("change", () => {
    const form = calling();
    if (!form) return;
    const taps = inputs(form).filter((i) => i.checked).map((i) => [i.name, i.value]);
    try {
      Object.keys(localStorage).filter((key) => key.startsWith("calls ") && key !== kept())
        .forEach((key) => localStorage.removeItem(key));
      localStorage.setItem(kept(), JSON.stringify([form.elements.call.value, taps]));
    } catch { /* full or forbidden: the page itself still has it */ }
  });
  const ready = () => {
    const form = calling();
    let [call, taps] = ["", []];
    try { [call, taps] = JSON.parse(localStorage.getItem(kept())) ?? [call, taps]; } catch { return; }
    if (!form || call !== form.elements.call.value || inputs(form).some((i) => i.checked)) return;
    inputs(form).forEach((i) => { i.checked = taps.some(([name, value]) => name === i.name && value === i.value); });
  };
  document.addEventListener("DOMContentLoaded", ready);
  document.addEventListener("htmx:afterSettle", ready);
})();
