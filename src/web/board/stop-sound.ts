/** Three low notes, unlike any cue's sound. If the browser plays no sound, the sentence on the page remains. */
const NOTES = 3;
const NOTE_SEC = 0.18;
const EVERY_SEC = 0.3;
const LOUDNESS = 0.4;

export function soundStop(): void {
  try {
    const context = new AudioContext();
    for (let i = 0; i < NOTES; i++) {
      const [tone, volume] = [context.createOscillator(), context.createGain()];
      tone.type = 'square';
      tone.frequency.value = 220;
      volume.gain.value = LOUDNESS;
      tone.connect(volume).connect(context.destination);
      tone.start(context.currentTime + i * EVERY_SEC);
      tone.stop(context.currentTime + i * EVERY_SEC + NOTE_SEC);
    }
    setTimeout(() => void context.close(), (NOTES * EVERY_SEC + 1) * 1000);
  } catch {}
}
