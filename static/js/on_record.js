// What was tapped (kept.js) is on record now, on this page: it is forgotten where it came from.
(() => {
  "use strict";
  if (!document.querySelector("[data-on-record]") || !document.referrer.startsWith(`${location.origin}/`)) return;
  try { sessionStorage.removeItem(`kept ${document.referrer.slice(location.origin.length)}`); } catch { /* forbidden: nothing was kept */ }
})();
