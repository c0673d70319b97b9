// Call practice, a step at a time. Without this all steps stand below each other. Nothing marks.
// Whatever step is shown is told as "stepped" (call_so_far.js, call_ways.js).
(() => {
  "use strict";
  let [byThumb, form, steps, at] = [false, null, [], 0];
  const ticked = (where) => [...where.querySelectorAll("input:checked")];
  const groups = (step) => [...step.querySelectorAll("[data-aspect]")];
  const isAsk = (step) => step.dataset.step === "ask";
  const waits = (group) => ticked(group.closest("[data-drink]"))
    .some((ask) => (ask.dataset.opens ?? "").split(" ").includes(group.dataset.aspect));
  const passes = (step) => !isAsk(step) && groups(step).every(waits);
  const missing = (step) => groups(step).filter((group) => !ticked(group).length && !waits(group));
  const done = (step) => !missing(step).length;
  const nextOf = () => steps.findIndex((step, n) => n > at && !passes(step));
  const beforeOf = () => steps.findLastIndex((step, n) => n < at && !passes(step));
  const part = (name) => form.querySelector(`[data-${name}]`);
  const show = (to = at, moved = false) => {
    at = Math.max(to, 0);
    const [next, back, serve] = ["next", "back", "serve"].map(part);
    steps.forEach((step, n) => { step.hidden = n !== at; step.toggleAttribute("data-passed", passes(step)); });
    next.textContent = next.dataset[isAsk(steps[at]) ? (ticked(steps[at]).length ? "ask" : "nothing") : "on"];
    next.disabled = !done(steps[at]);
    [next.hidden, back.hidden] = [nextOf() < 0, beforeOf() < 0];
    serve.hidden = !next.hidden;
    form.dispatchEvent(new CustomEvent("stepped", { bubbles: true, detail: { steps, at, moved } }));
    if (moved) steps[at].focus({ preventScroll: true });
  };
  document.addEventListener("pointerdown", () => { byThumb = true; }, true);
  document.addEventListener("keydown", () => { byThumb = false; }, true);
  document.addEventListener("change", (event) => {
    const step = form && form.contains(event.target) && event.target.closest("[data-step]");
    if (!step) return;
    part("still-open").hidden = true;
    const goesOn = byThumb && done(step) && nextOf() >= 0 && !step.querySelector("[type=checkbox]");
    show(goesOn ? nextOf() : at, goesOn);
  });
  document.addEventListener("click", (event) => {
    const way = event.target.closest("[data-next], [data-back], [data-serve]");
    if (!way) return;
    if (!("serve" in way.dataset)) return show("next" in way.dataset ? nextOf() : beforeOf(), true);
    const open = steps.flatMap(missing);
    if (way.hidden || open.length) event.preventDefault();
    if (way.hidden) return part("next").click(); // Enter sends a form by its first button
    part("still-open").hidden = !open.length;
    part("missing").textContent = open.map((group) => group.querySelector("legend").textContent).join(", ");
    if (open.length) show(steps.indexOf(open[0].closest("[data-step]")), true);
  });
  const ready = () => {
    form = document.querySelector("[data-calling]");
    if (!form) return;
    steps = [...form.querySelectorAll("[data-step]")];
    form.classList.add("stepping");
    part("stepper").hidden = false;
    const last = steps.findLastIndex((step) => ticked(step).length);
    show(Number(form.dataset.at ?? steps.findIndex((step, n) => n === last || !done(step))));
  };
  document.addEventListener("DOMContentLoaded", ready);
  document.addEventListener("htmx:afterSettle", ready);
})();
