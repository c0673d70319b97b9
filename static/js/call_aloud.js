// Calls said by the browser's own voice: off until somebody switches it on, and then on for them, in
// this tab, until they switch it off.
(() => {
  "use strict";
  let aloud = false;
  const kept = () => `aloud ${document.querySelector("[data-sound]").dataset.sound}`;

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
    try { sessionStorage.setItem(kept(), aloud ? "on" : ""); } catch { /* on this page alone, then */ }
    if (aloud) say(); else speechSynthesis.cancel();
  });

  const ready = () => {
    const button = document.querySelector("[data-aloud]");
    if (!button) return;
    button.hidden = !("speechSynthesis" in window);
    try { aloud = Boolean(sessionStorage.getItem(kept())); } catch { /* as it is */ }
    button.setAttribute("aria-pressed", String(aloud));
    say();
  };
  document.addEventListener("DOMContentLoaded", ready);
  document.addEventListener("htmx:afterSettle", ready);
})();
