// Turning a card: the browser's own <details> does it; this notes how long the front was looked at.
(() => {
  "use strict";
  const deal = (card) => {
    const shown = performance.now();
    card.addEventListener("toggle", () => {
      if (!card.open) return;
      const time = card.closest("form")?.querySelector("input[data-ms]");
      if (time && !time.value) time.value = String(Math.round(performance.now() - shown));
      card.querySelector("[data-back]")?.focus();
    });
  };

  const dealAll = () => document.querySelectorAll("details.card:not([data-dealt])").forEach((card) => {
    card.dataset.dealt = "";
    deal(card);
  });
  document.addEventListener("DOMContentLoaded", dealAll);
  document.addEventListener("htmx:afterSwap", dealAll);
})();
