// Steps of a round, tapped in the order in which they are done, in place of numbers to type. The
// fields stay what the form sends; a step tapped again is taken back and those after it move up.
(() => {
  "use strict";

  const arm = (list) => {
    const rows = [...list.querySelectorAll("li")].map((row) => ({ row, field: row.querySelector("input") }));
    let tapped = rows.filter(({ field }) => field.value).sort((a, b) => a.field.value - b.field.value);

    const show = () => rows.forEach((step) => {
      const place = tapped.indexOf(step) + 1;
      step.field.value = place || "";
      step.nth.textContent = place || "";
      step.button.setAttribute("aria-pressed", String(place > 0));
    });
    const tap = (step) => {
      tapped = tapped.includes(step) ? tapped.filter((other) => other !== step) : [...tapped, step];
      show();
    };

    rows.forEach((step) => {
      const label = step.row.querySelector("label");
      const words = document.createElement("span");
      step.button = document.createElement("button");
      step.nth = document.createElement("span");
      step.button.type = "button";
      step.button.className = "tap";
      step.nth.className = "nth";
      words.append(...label.childNodes);
      step.button.append(words, step.nth);
      step.button.addEventListener("click", () => tap(step));
      label.replaceWith(step.button);
      step.field.type = "hidden";
    });
    document.querySelectorAll("[data-typed]").forEach((words) => { words.hidden = true; });
    document.querySelectorAll("[data-tap]").forEach((words) => { words.hidden = false; });
    show();
  };

  const armAll = () => document.querySelectorAll("[data-places]:not([data-armed])").forEach((list) => {
    list.dataset.armed = "";
    arm(list);
  });
  document.addEventListener("DOMContentLoaded", armAll);
  document.addEventListener("htmx:afterSwap", armAll);
})();
