/** Times for people, in this device's time zone. */
import type { Language } from '../../pacing/cues/words.ts';

export const clockHere = (atMs: number, language: Language): string =>
  new Date(atMs).toLocaleTimeString(language === 'es' ? 'es-US' : 'en-US', {
    hour: 'numeric',
    minute: '2-digit',
  });

export const instantHere = (atMs: number, language: Language): string =>
  new Date(atMs).toLocaleString(language === 'es' ? 'es-US' : 'en-US', {
    month: 'short',
    day: 'numeric',
    hour: 'numeric',
    minute: '2-digit',
  });
