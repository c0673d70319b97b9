// From one call to the next without loading a page, and what may happen on the way.
(() => {
  "use strict";
  const [TWICE_MS, SAME_SPOT_PX] = [400, 24];
  let last = {};
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

  // A wet thumb taps twice: the second tap of two, on the same spot, never chooses on the step that the
  // first one led to.
  document.addEventListener("click", (event) => {
    const step = event.target.closest("[data-calling] .choice")?.closest("[data-step]") ?? null;
    const { timeStamp: at, clientX: x, clientY: y } = event;
    const twice = at - last.at < TWICE_MS && Math.hypot(x - last.x, y - last.y) < SAME_SPOT_PX;
    if (step && event.detail && twice && step !== last.step) event.preventDefault();
    else last = { step, at, x, y };
  }, true);
})();
