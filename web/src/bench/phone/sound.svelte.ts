import { keep, kept } from '$lib/device';
import type { Sign } from './signs';

/** Tones as [from, to, how high]: s, s, Hz. All of our own, short enough for a hall. */
const tones: Record<Sign, [from: number, to: number, hz: number][]> = {
  call: [
    [0, 0.16, 660],
    [0.18, 0.34, 880],
    [0.5, 0.66, 660],
    [0.68, 0.84, 880],
  ],
  go: [[0, 0.7, 990]],
  time: [
    [0, 0.18, 520],
    [0.28, 0.46, 520],
    [0.56, 0.74, 520],
  ],
  end: [
    [0, 0.18, 880],
    [0.2, 0.45, 587],
  ],
};

/** Vibration in ms, on and off by turns. */
const shakes: Record<Sign, number[]> = {
  call: [200, 100, 200],
  go: [500],
  time: [120, 80, 120, 80, 120],
  end: [150, 100, 300],
};

/** The loudest that a tone gets, of 1: phones lie beside ears. */
const loudest = 0.35;
const place = 'benchmeet-sound';

/** Sound tells signs by tone and vibration, where this phone is set to. */
export class Sound {
  #on = $state(kept(place) !== 'off');
  /** Browsers let a page sound only after it was touched. */
  touched = $state(false);
  /** What could be tried: no browser without it sounds. */
  readonly able = typeof AudioContext === 'function';
  #audio: AudioContext | undefined;

  get on(): boolean {
    return this.#on;
  }

  set on(to: boolean) {
    this.#on = to;
    keep(place, to ? 'on' : 'off');
  }

  /** listen wakes the sound with the first touch; give it to an effect. */
  listen = (): (() => void) => {
    const touch = () => void this.#wake();
    addEventListener('pointerdown', touch);
    addEventListener('keydown', touch);
    return () => {
      removeEventListener('pointerdown', touch);
      removeEventListener('keydown', touch);
      void this.#audio?.close();
      this.#audio = undefined;
    };
  };

  /** tell gives a sign, if this phone is set to. */
  tell(sign: Sign): void {
    if (this.on) this.#give(sign);
  }

  /** test sounds as at a call, whatever the switch says. */
  async test(): Promise<void> {
    await this.#wake();
    this.#give('call');
  }

  #give(sign: Sign): void {
    navigator.vibrate?.(shakes[sign]);
    const audio = this.#audio;
    if (!audio || audio.state !== 'running') return;
    for (const [from, to, hz] of tones[sign]) {
      const tone = new OscillatorNode(audio, { type: 'triangle', frequency: hz });
      const volume = new GainNode(audio, { gain: 0 });
      const start = audio.currentTime + from + 0.02;
      const end = audio.currentTime + to;
      // In and out within a moment, or it clicks.
      volume.gain.setValueAtTime(0, start);
      volume.gain.linearRampToValueAtTime(loudest, start + 0.02);
      volume.gain.setValueAtTime(loudest, end - 0.03);
      volume.gain.linearRampToValueAtTime(0, end);
      tone.connect(volume).connect(audio.destination);
      tone.start(start);
      tone.stop(end);
    }
  }

  async #wake(): Promise<void> {
    if (!this.able) return;
    try {
      this.#audio ??= new AudioContext();
      // A phone that was locked has stopped it.
      if (this.#audio.state !== 'running') await this.#audio.resume();
      this.touched = this.#audio.state === 'running';
    } catch {
      // It stays silent, and the page says so.
    }
  }
}
