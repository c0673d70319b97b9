// Call practice: what is chosen shrinks, the next choice comes under the thumb, and calls are said by
// the browser's own voice. Nothing here marks.
(() => {
  "use strict";
  let byThumb = false;
  let aloud = false;

  document.addEventListener("pointerdown", () => { byThumb = true; }, true);
  document.addEventListener("keydown", () => { byThumb = false; }, true);

  document.addEventListener("change", (event) => {
    const group = event.target.closest("[data-pick]");
    if (!group || event.target.type !== "radio" || !byThumb) return;
    group.classList.add("picked");
    const groups = [...document.querySelectorAll("[data-pick]")];
    const next = groups.slice(groups.indexOf(group) + 1).find((g) => !g.classList.contains("picked"));
    (next || document.querySelector(".asks") || group).scrollIntoView({ block: "center" });
  });

  document.addEventListener("click", (event) => {
    const choice = event.target.closest(".picked .choice");
    if (choice && event.target.type !== "radio") choice.closest("[data-pick]").classList.remove("picked");
  });

  const say = () => {
    const text = document.querySelector("[data-said]")?.textContent.trim();
    if (!aloud || !text) return;
    speechSynthesis.cancel();
    const voice = new SpeechSynthesisUtterance(text);
    voice.lang = document.documentElement.lang;
    speechSynthesis.speak(voice);
  };

  document.addEventListener("click", (event) => {
    const button = event.target.closest("[data-aloud]");
    if (!button) return;
    aloud = button.getAttribute("aria-pressed") !== "true";
    button.setAttribute("aria-pressed", String(aloud));
    if (aloud) say(); else speechSynthesis.cancel();
  });

  const ready = () => {
    const sound = document.querySelector("[data-sound]");
    if (!sound) return;
    sound.hidden = false;
    const button = sound.querySelector("[data-aloud]");
    button.hidden = !("speechSynthesis" in window);
    button.setAttribute("aria-pressed", String(aloud));
    say();
  };
  document.addEventListener("DOMContentLoaded", ready);
  document.addEventListener("htmx:afterSettle", () => {
    document.getElementById("main").focus({ preventScroll: true });
    ready();
  });
})();
