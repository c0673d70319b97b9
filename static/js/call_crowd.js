// The noise of a crowd, made by the page itself: off until somebody switches it on, and it goes on
// from one call to the next. After a reload it comes back with the first tap, which browsers wait for.
(() => {
  "use strict";
  const LOUD = 0.15;
  let crowd = null;
  let noisy = false;
  const kept = () => `crowd ${document.querySelector("[data-sound]").dataset.sound}`;

  // Many voices at once are noise with most of it where speech is, swelling and sinking.
  const makeCrowd = () => {
    const audio = new AudioContext();
    const sound = audio.createBuffer(1, audio.sampleRate * 6, audio.sampleRate);
    const samples = sound.getChannelData(0);
    for (let n = 0; n < samples.length; n += 1) {
      const swell = 0.7 + 0.3 * Math.sin((n / samples.length) * 12 * Math.PI);
      samples[n] = (Math.random() * 2 - 1) * swell;
    }
    const source = audio.createBufferSource();
    source.buffer = sound;
    source.loop = true;
    const speech = audio.createBiquadFilter();
    speech.type = "bandpass";
    speech.frequency.value = 500;
    speech.Q.value = 0.6;
    const gain = audio.createGain();
    source.connect(speech).connect(gain).connect(audio.destination);
    source.start();
    return gain;
  };

  const sound = () => {
    if (!crowd && noisy) crowd = makeCrowd();
    if (crowd) crowd.gain.value = noisy ? LOUD : 0;
  };
  document.addEventListener("click", (event) => {
    const button = event.target.closest("[data-noise]");
    if (button) {
      noisy = !noisy;
      button.setAttribute("aria-pressed", String(noisy));
      try { sessionStorage.setItem(kept(), noisy ? "on" : ""); } catch { /* on this page alone, then */ }
    }
    if (document.querySelector("[data-noise]")) sound();
  });

  const ready = () => {
    const button = document.querySelector("[data-noise]");
    if (!button) return;
    button.hidden = !("AudioContext" in window);
    try { noisy = Boolean(sessionStorage.getItem(kept())); } catch { /* as it is */ }
    button.setAttribute("aria-pressed", String(noisy));
  };
  document.addEventListener("DOMContentLoaded", ready);
  document.addEventListener("htmx:afterSettle", ready);
})();
