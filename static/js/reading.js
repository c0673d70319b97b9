// How long a text was before somebody's eyes: while the page shows and something of it moved, was
// touched or typed in the last minute. An idle tab counts nothing; the house bounds what is said.
(() => {
  "use strict";
  const IDLE_MS = 60 * 1000; // a screenful is read without a touch (our own number)
  const form = document.querySelector("form[data-reading]");
  if (!form) return;
  let [read, moved, since] = [0, performance.now(), document.hidden ? null : performance.now()];

  const upTo = (now) => {
    if (since !== null) read += Math.max(0, Math.min(now, moved + IDLE_MS) - Math.max(since, 0));
    since = since === null ? null : now;
  };
  const stir = () => { upTo(performance.now()); moved = performance.now(); };
  const tell = () => {
    upTo(performance.now());
    const seconds = Math.round(read / 1000);
    if (seconds < 1) return;
    form.elements.seconds.value = String(seconds);
    fetch(form.action, {
      method: "POST", body: new URLSearchParams(new FormData(form)), credentials: "same-origin",
      redirect: "manual", keepalive: true,
    }).catch(() => { /* without a signal it isn't counted */ });
    read = 0;
    form.elements.form_key.value = crypto.randomUUID(); // what is read from now on is told by itself
  };

  for (const kind of ["pointerdown", "pointermove", "keydown", "scroll", "touchmove"]) {
    addEventListener(kind, stir, { passive: true });
  }
  document.addEventListener("visibilitychange", () => {
    if (document.hidden) { tell(); since = null; } else { since = moved = performance.now(); }
  });
  addEventListener("pagehide", tell);
})();
