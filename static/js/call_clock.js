// The clock of a rush: the server says how long it has been going, and the page counts on from there.
// And "nothing" is never ticked beside something.
(() => {
  "use strict";
  let ticking = 0;

  const ready = () => {
    clearInterval(ticking);
    const clock = document.querySelector("main [data-clock]");
    if (!clock || !document.querySelector("[data-calling]")) return;
    const since = performance.now() - 1000 * Number(clock.dataset.clock);
    ticking = setInterval(() => {
      const seconds = Math.floor((performance.now() - since) / 1000);
      clock.textContent = `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, "0")}`;
    }, 500);
  };

  document.addEventListener("change", (event) => {
    const input = event.target;
    if (input.type !== "checkbox" || !input.checked || !input.closest("[data-aspect]")) return;
    input.closest("[data-aspect]").querySelectorAll("input").forEach((other) => {
      if (other !== input && ("none" in input.dataset || "none" in other.dataset)) other.checked = false;
    });
  }, true);

  document.addEventListener("DOMContentLoaded", ready);
  document.addEventListener("htmx:afterSettle", () => {
    document.getElementById("main").focus({ preventScroll: true });
    ready();
  });
})();
