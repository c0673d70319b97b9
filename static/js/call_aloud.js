// Calls said by the browser's own voice: off until somebody switches it on.
(() => {
  "use strict";
  let aloud = false;

  const say = () => {
    const said = document.querySelector("[data-said]");
    if (!aloud || !said) return;
    speechSynthesis.cancel();
    const voice = new SpeechSynthesisUtterance(said.textContent.trim());
    voice.lang = said.lang;
    speechSynthesis.speak(voice);
  };

  document.addEventListener("click", (event) => {
    const button = event.target.closest("[data-aloud]");
    if (!button) return;
    aloud = !aloud;
    button.setAttribute("aria-pressed", String(aloud));
    if (aloud) say(); else speechSynthesis.cancel();
  });

  const ready = () => {
    const button = document.querySelector("[data-aloud]");
    if (!button) return;
    button.hidden = !("speechSynthesis" in window);
    button.setAttribute("aria-pressed", String(aloud));
    say();
  };
  document.addEventListener("DOMContentLoaded", ready);
  document.addEventListener("htmx:afterSettle", ready);
})();
