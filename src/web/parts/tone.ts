/** Lays the whole document on one of the three grounds. */
import { useEffect, useState } from 'preact/hooks';
import type { Tone } from '../live/tone.ts';

const DARK = '(prefers-color-scheme: dark)';

export function usePrefersDark(): boolean {
  const [prefers, setPrefers] = useState(() => matchMedia(DARK).matches);
  useEffect(() => {
    const query = matchMedia(DARK);
    const look = () => setPrefers(query.matches);
    query.addEventListener('change', look);
    return () => query.removeEventListener('change', look);
  }, []);
  return prefers;
}

export function useTone(tone: Tone): void {
  useEffect(() => {
    document.documentElement.dataset.tone = tone;
  }, [tone]);
}
