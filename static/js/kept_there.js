// What is tapped while a hire is watched goes to the house too, a breath after the last tap: it
// outlasts a closed tab and a dead phone, for whoever tapped it. kept.js, which comes after this
// script, shows what was kept. What went on record meanwhile, or was dropped, begins anew.
(() => {
  "use strict";
  const BREATH_MS = 400;
  const AGAIN_MS = 5000; // without a signal
  const form = document.querySelector("form[data-kept-there]");
  if (!form) return;
  const here = form.getAttribute("action") || location.pathname + location.search;
  const name = `kept ${here}`;
  const parsed = (said) => { try { return JSON.parse(said); } catch { return null; } };
  const stored = () => { try { return parsed(sessionStorage.getItem(name)); } catch { return null; } };
  const store = (said) => { try { sessionStorage.setItem(name, said); } catch { /* forbidden: only the house keeps it */ } };
  const forget = () => { try { sessionStorage.removeItem(name); } catch { /* nothing was kept */ } };
  const keyOf = () => form.elements.form_key.value;

  const before = parsed(form.dataset.keptBefore);
  let code = form.dataset.keptCode;
  const own = stored();
  const doubtful = own?.code && !code; // on record by now, or kept while this page was on its way
  if (own?.code && own.code !== code) forget();
  const ours = own?.by === form.dataset.kept && own.at >= (before?.at ?? 0) ? stored() : null;
  if (before && !ours) store(JSON.stringify({ ...before, at: Date.now() }));
  const keys = [...new Set([ours?.page, keyOf()].filter(Boolean))];

  let [latest, timer, over] = [null, 0, false];
  let sending = Promise.resolve();
  const put = (kept, after = code, forms = keys) => fetch(form.dataset.keptThere, {
    method: "PUT", credentials: "same-origin", redirect: "manual", keepalive: true,
    headers: { "Content-Type": "application/json", "X-CSRFToken": form.elements.csrfmiddlewaretoken.value },
    body: JSON.stringify({ where: here, forms, kept, after }),
  });
  const heard = async (answer) => {
    if (over) return;
    if (answer.status === 409) {
      over = true;
      forget();
      location.reload();
    } else if (answer.ok && (code = await answer.text()) && stored()) store(JSON.stringify({ ...stored(), code }));
  };
  const showOwn = ({ ok }) => ok && !stored() && (store(JSON.stringify(own)), location.reload()); // unless begun anew
  if (doubtful && own.by === form.dataset.kept) put(own, own.code, [own.page]).then(showOwn).catch(() => {});
  const later = (ms) => { clearTimeout(timer); timer = setTimeout(send, ms); };
  const send = () => {
    const kept = latest;
    if (!kept || over) return;
    latest = null;
    sending = sending.then(() => put(kept)).then(heard).catch(() => { latest ??= kept; later(AGAIN_MS); });
  };
  form.addEventListener("kept", ({ detail }) => { latest = detail; detail.code = code; later(BREATH_MS); });
  form.addEventListener("afresh", (event) => {
    event.preventDefault();
    over = true;
    sending.then(() => put(null)).catch(() => {}).finally(() => location.reload());
  });
  form.addEventListener("submit", (event) => setTimeout(() => { over ||= !event.defaultPrevented; }));
  document.addEventListener("visibilitychange", () => document.hidden && send());
})();
