// Call practice, a step at a time. Without this all steps stand below each other. Nothing marks.
(() => {
  "use strict";
  let [byThumb, form, steps, at] = [false, null, [], 0];
  const ticked = (where) => [...where.querySelectorAll("input:checked")];
  const groups = (step) => [...step.querySelectorAll("[data-aspect]")];
  const isAsk = (step) => step.dataset.step === "ask";
  const waits = (step) => {
    const asks = step.closest("[data-drink]").querySelectorAll("[data-opens]:checked");
    const open = new Set([...asks].flatMap((ask) => ask.dataset.opens.split(" ")));
    return !isAsk(step) && groups(step).every((group) => open.has(group.dataset.aspect));
  };
  const done = (step) => isAsk(step) || waits(step) || groups(step).every((g) => ticked(g).length);
  const nextOf = () => steps.findIndex((step, n) => n > at && !waits(step));
  const beforeOf = () => steps.findLastIndex((step, n) => n < at && !waits(step));
  const word = (input) => input.parentElement.textContent.trim()
    + ("opens" in input.dataset ? "?" : "") + (input.closest("[data-aspect=count]") ? " ×" : "");
  const soFar = (drink, n) => {
    const [line, said] = [form.querySelectorAll("[data-so-far]")[n], ticked(drink).filter((i) => !steps[at].contains(i)).map(word)];
    if (said.length) said[0] = (line.dataset.of ?? "") + said[0];
    line.replaceChildren(...said.map((text) => Object.assign(document.createElement("span"), { textContent: text })));
    drink.hidden = line.classList.toggle("elsewhere", !drink.contains(steps[at]));
  };
  const show = (to = at, focus = false) => {
    at = Math.max(to, 0);
    const [next, back, serve] = ["next", "back", "serve"].map((b) => form.querySelector(`[data-${b}]`));
    steps.forEach((step, n) => { step.hidden = n !== at; });
    form.querySelectorAll("[data-drink]").forEach(soFar);
    next.textContent = next.dataset[isAsk(steps[at]) ? (ticked(steps[at]).length ? "ask" : "nothing") : "on"];
    next.disabled = !done(steps[at]);
    [next.hidden, back.hidden] = [nextOf() < 0, beforeOf() < 0];
    serve.hidden = !next.hidden;
    serve.disabled = !steps.every(done);
    if (focus) steps[at].focus({ preventScroll: true });
  };
  document.addEventListener("pointerdown", () => { byThumb = true; }, true);
  document.addEventListener("keydown", () => { byThumb = false; }, true);
  document.addEventListener("change", (event) => {
    const step = form && form.contains(event.target) && event.target.closest("[data-step]");
    if (!step) return;
    const goesOn = byThumb && done(step) && nextOf() >= 0 && !step.querySelector("[type=checkbox]");
    show(goesOn ? nextOf() : at, goesOn);
  });
  document.addEventListener("click", (event) => {
    const way = event.target.closest("[data-next], [data-back]");
    if (way) show("next" in way.dataset ? nextOf() : beforeOf(), true);
  });
  const ready = () => {
    form = document.querySelector("[data-calling]");
    if (!form) return;
    steps = [...form.querySelectorAll("[data-step]")];
    form.classList.add("stepping");
    form.querySelector("[data-stepper]").hidden = false;
    const last = steps.findLastIndex((step) => ticked(step).length);
    show(steps.findIndex((step, n) => n === last || !done(step)));
  };
  document.addEventListener("DOMContentLoaded", ready);
  document.addEventListener("htmx:afterSettle", ready);
})();
