// A wet thumb taps twice: a form that is on its way is not sent a second time.
(() => {
  "use strict";
  const buttons = (form) => form.querySelectorAll("button:not([type=button])");

  const mark = (form, sending) => {
    form.toggleAttribute("data-sending", sending);
    buttons(form).forEach((button) => button.setAttribute("aria-disabled", String(sending)));
  };

  document.addEventListener("submit", (event) => {
    const form = event.target;
    if (form.hasAttribute("data-sending")) {
      event.preventDefault();
      event.stopImmediatePropagation();
      return;
    }
    mark(form, true);
    // An answer that is a file leaves the page standing.
    setTimeout(() => mark(form, false), 6000);
    // Another script may keep the form here (to check it, or to send it later).
    setTimeout(() => event.defaultPrevented && !form.closest("[hx-post]") && mark(form, false));
  }, true);

  const free = () => document.querySelectorAll("form[data-sending]").forEach((form) => mark(form, false));
  document.addEventListener("htmx:afterRequest", free);
  window.addEventListener("pageshow", free);
})();
