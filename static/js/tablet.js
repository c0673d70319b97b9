// On a shared tablet: whoever lets go is signed out soon, whoever keeps working is not.
(() => {
  "use strict";
  const IDLE_MS = 4 * 60 * 1000;
  const SAY_MS = 60 * 1000;
  let touched = Date.now();
  let said = touched;

  const note = () => {
    touched = Date.now();
    if (touched - said > SAY_MS) {
      said = touched;
      fetch(location.href, { method: "HEAD", credentials: "same-origin" }).catch(() => {});
    }
  };
  for (const event of ["pointerdown", "keydown", "scroll"]) {
    addEventListener(event, note, { passive: true });
  }
  setInterval(() => {
    if (Date.now() - touched > IDLE_MS) {
      location.assign("/tablet/");
    }
  }, 5000);
})();
