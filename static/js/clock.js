// A stopwatch in place of the number field; the field is what the form sends.
(() => {
  "use strict";
  const LONGEST = 3600; // the most that the server takes: a clock forgotten for an hour stands still
  const face = (seconds) => `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, "0")}`;

  const wind = (clock) => {
    const [field, output, button] = ["field", "face", "start"].map((part) => clock.querySelector(`[data-clock-${part}]`));
    const input = field.querySelector("input");
    let before = Number(clock.dataset.before || input.value * 1000 || 0);
    let since = null;
    let ticking = 0;

    const seconds = () => Math.min(LONGEST, Math.round((before + (since === null ? 0 : Date.now() - since)) / 1000));
    const keep = () => { [clock.dataset.before, clock.dataset.since] = [before, since ?? ""]; };
    const show = () => {
      output.textContent = face(seconds());
      input.value = String(seconds());
    };
    const stop = () => {
      if (since === null) return;
      before += Date.now() - since;
      since = null;
      clearInterval(ticking);
      button.textContent = button.dataset.go;
      show();
      keep();
    };
    const start = (from = Date.now()) => {
      since = from;
      ticking = setInterval(show, 250);
      button.textContent = button.dataset.stop;
      keep();
    };

    field.hidden = true;
    output.hidden = button.hidden = false;
    output.textContent = face(seconds());
    button.addEventListener("click", () => (since === null ? start() : stop()));
    if (clock.dataset.since) start(Number(clock.dataset.since)); // it ran on over a reload (kept.js)
    input.form?.addEventListener("submit", stop, true);
  };

  const windAll = () => document.querySelectorAll("[data-clock]:not([data-wound])").forEach((clock) => {
    clock.dataset.wound = "";
    wind(clock);
  });
  document.addEventListener("DOMContentLoaded", windAll);
  document.addEventListener("htmx:afterSwap", windAll);
})();
