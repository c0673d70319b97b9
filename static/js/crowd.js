// The noise of a crowd, made by the page itself: off until somebody turns it up, and it goes on from
// one call to the next.
(() => {
  "use strict";
  let loud = 0;
  let crowd = null;

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
    return { audio, gain };
  };

  document.addEventListener("input", (event) => {
    if (!event.target.matches("[data-noise]")) return;
    loud = Number(event.target.value);
    if (!crowd && loud) crowd = makeCrowd();
    if (crowd) crowd.gain.gain.value = (loud / 100) ** 2;
  });

  const ready = () => {
    const noise = document.querySelector("[data-noise]");
    if (!noise) return;
    noise.closest("label").hidden = !("AudioContext" in window);
    noise.value = String(loud);
  };
  document.addEventListener("DOMContentLoaded", ready);
  document.addEventListener("htmx:afterSettle", ready);
})();
