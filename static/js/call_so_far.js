// What has been chosen of each drink so far, and on a wide page what is still to choose.
(() => {
  "use strict";
  const word = (input) => input.parentElement.textContent.trim()
    + ("opens" in input.dataset ? "?" : "") + (input.closest("[data-aspect=count]") ? " ×" : "");
  const put = (line, part, says, state) => {
    line.className = state;
    if (line.dataset.says === `${part}${says}`) return; // said aloud once
    line.dataset.says = `${part}${says}`;
    const label = Object.assign(document.createElement("b"), { textContent: `${part} ` });
    line.replaceChildren(label, says);
  };

  document.addEventListener("stepped", ({ target, detail: { steps, at } }) => {
    const here = steps[at].closest("[data-drink]");
    const drinks = [...target.querySelectorAll("[data-drink]")];
    target.querySelectorAll("[data-so-far]").forEach((list, n) => {
      const parts = steps.filter((step) => drinks[n].contains(step)).flatMap((step) =>
        [...step.querySelectorAll("fieldset")].map((part) => [step, part]));
      while (list.querySelectorAll("span").length < parts.length) list.append(document.createElement("span"));
      parts.forEach(([step, part], i) => {
        const passed = part.matches(".asks") && steps.indexOf(step) < at ? target.querySelector("[data-next]").dataset.nothing : "";
        const says = [...part.querySelectorAll("input:checked")].map(word).join(", ") || passed;
        const state = step === steps[at] ? "here" : says ? "chosen" : "todo";
        put(list.querySelectorAll("span")[i], part.querySelector("legend").textContent, says, state);
        list.querySelectorAll("span")[i].hidden = step.hasAttribute("data-passed");
      });
      drinks[n].hidden = list.classList.toggle("elsewhere", drinks[n] !== here);
    });
  });
})();
