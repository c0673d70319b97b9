// From one call to the next without loading a page, and what may happen on the way.
(() => {
  "use strict";
  const SEEN_MS = 250;
  const onTheWay = () => document.querySelector("[data-calling], [data-came]");

  document.addEventListener("htmx:beforeSwap", (event) => {
    const { xhr } = event.detail;
    if (!onTheWay()) return;
    // How it went, or the door: another page has its own address and looks.
    if (xhr.responseURL && new URL(xhr.responseURL).pathname !== location.pathname) {
      event.detail.shouldSwap = false;
      location.assign(xhr.responseURL);
    } else if (xhr.status === 403) { // signed in anew elsewhere: what was tapped is kept meanwhile
      event.detail.isError = false;
      location.reload();
    } else if (xhr.status === 409) { // "That one is answered already" is a page to read
      [event.detail.shouldSwap, event.detail.isError] = [true, false];
    }
  });

  // A wet thumb taps twice, or on two choices at once: what has just come takes no tap until it has
  // been on the screen for as long as somebody needs to see it (our own number).
  const hold = () => {
    const came = onTheWay();
    if (!came) return;
    const mine = String(performance.now());
    came.dataset.fresh = mine;
    requestAnimationFrame(() => setTimeout(() => came.dataset.fresh === mine && came.removeAttribute("data-fresh"), SEEN_MS));
  };
  document.addEventListener("stepped", (event) => event.detail.moved && hold());
  document.addEventListener("htmx:afterSwap", hold);
})();
