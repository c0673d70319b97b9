// Without a signal a form stays as it stands and says so: nothing that was chosen is lost. A form
// with a [data-no-signal] in it is sent only once the house has been heard.
(() => {
  "use strict";
  const WAIT_MS = 5000;
  const house = document.currentScript.src;
  const asking = new WeakSet();
  const heard = new WeakSet();

  const isThere = async () => {
    if (!navigator.onLine) return false;
    const gaveUp = new AbortController();
    const patience = setTimeout(() => gaveUp.abort(), WAIT_MS);
    try {
      await fetch(house, { method: "HEAD", cache: "no-store", signal: gaveUp.signal });
      return true;
    } catch {
      return false;
    } finally {
      clearTimeout(patience);
    }
  };

  const free = (form) => {
    form.removeAttribute("data-sending");
    form.querySelectorAll("[aria-disabled]").forEach((button) => button.removeAttribute("aria-disabled"));
  };

  // The button may hang over the end of the page: what is said is brought into sight.
  const say = (slip) => {
    slip.hidden = false;
    slip.scrollIntoView({ block: "center" });
  };

  const saying = (form) => form?.querySelector("[data-no-signal]");
  document.addEventListener("submit", async (event) => {
    const form = event.target;
    const slip = saying(form);
    if (!slip || heard.delete(form)) return;
    event.preventDefault();
    event.stopImmediatePropagation();
    if (asking.has(form)) return;
    asking.add(form);
    slip.hidden = true;
    const there = await isThere();
    asking.delete(form);
    free(form);
    if (!there) return say(slip);
    heard.add(form);
    form.requestSubmit(event.submitter);
  }, true);

  // Lost on the way, where a script sends the form.
  document.addEventListener("htmx:sendError", (event) => {
    const slip = saying(event.target.closest("form"));
    if (slip) say(slip);
  });
})();
