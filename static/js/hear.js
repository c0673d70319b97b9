// Calls by voice, where the browser offers it; elsewhere the button stays hidden and calls are typed.
(() => {
  "use strict";
  const Recognition = window.SpeechRecognition || window.webkitSpeechRecognition;

  const ready = () => {
    const button = document.querySelector("[data-listen]");
    const field = document.getElementById("call");
    const state = document.querySelector("[data-listening]");
    if (!Recognition || !button || !field) return;
    document.querySelectorAll("[data-listen], [data-listen-words]").forEach((e) => { e.hidden = false; });
    button.addEventListener("click", () => {
      const heard = new Recognition();
      heard.lang = document.documentElement.lang;
      heard.interimResults = false;
      heard.onresult = (event) => {
        field.value = Array.from(event.results, (r) => r[0].transcript).join(" ");
        field.dispatchEvent(new Event("input", { bubbles: true }));
        state.textContent = "";
      };
      heard.onerror = () => { state.textContent = state.dataset.failed; };
      heard.onend = () => { button.disabled = false; if (state.textContent === state.dataset.now) state.textContent = ""; };
      button.disabled = true;
      state.textContent = state.dataset.now;
      heard.start();
    });
  };
  // What no address holds isn't read while it is typed; the button sends it.
  document.addEventListener("htmx:configRequest", (event) => {
    const typed = event.target.id === "call" && encodeURIComponent(event.target.value);
    if (typed && typed.length > 2500) event.preventDefault();
  });
  document.addEventListener("DOMContentLoaded", ready);
})();
