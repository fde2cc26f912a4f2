/** Sets the color scheme of the whole document. */
import { useEffect, useState } from 'preact/hooks';
import { isNightHour, type Tone } from '../live/tone.ts';

const DARK = '(prefers-color-scheme: dark)';

/** It is night by this device's clock, or the device asks for dark. Pages render with every view, so the hour is up to date. */
export function useIsDark(): boolean {
  return usePrefersDark() || isNightHour(new Date().getHours());
}

function usePrefersDark(): boolean {
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
