/** The time zone of days and times; asks for it if nobody chose one and the machine's zone differs from this device's or is unknown. */
import { useState } from 'preact/hooks';
import type { FamilyZone } from '../../app/kept/family-zone.ts';
import type { Language } from '../../pacing/cues/words.ts';
import { postJson, type Refused, useJson } from '../parts/ask.ts';
import { useChoices } from '../parts/choices.tsx';
import { RefusedNotice } from '../parts/refused-notice.tsx';
import { useMay } from '../parts/right.tsx';
import { FEEDS_WORDS } from './words.ts';

/** "New York" for "America/New_York"; in Spanish "Nueva York", if the browser's data contain it. */
export function placeOf(zone: string, language: Language): string {
  const named = zone.split('/').at(-1)!.replaceAll('_', ' ');
  if (language === 'en') return named;
  const parts = new Intl.DateTimeFormat('es', { timeZone: zone, timeZoneName: 'shortGeneric' }).formatToParts(
    0,
  );
  const said = parts.find(({ type }) => type === 'timeZoneName')?.value ?? '';
  return /^hora de (.+)$/.exec(said)?.[1] ?? named;
}

const deviceZone = (): string => Intl.DateTimeFormat().resolvedOptions().timeZone;

export function ZoneNotice() {
  const answer = useJson<FamilyZone>('/zone');
  return answer.state === 'here' ? <Zone {...answer.answer} /> : null;
}

function Zone({ zone, isChosen, asks }: FamilyZone) {
  const { language } = useChoices();
  const words = FEEDS_WORDS[language].zone;
  const [refused, setRefused] = useState<Refused | null>(null);
  const keep = async (chosen: string) => {
    const posted = await postJson('/zone', { zone: chosen });
    // All times on the page are in the former zone.
    if ('answer' in posted) location.reload();
    else setRefused(posted.error);
  };
  const isOwner = useMay()('owner');
  const device = deviceZone();
  if (!isOwner) return <p class="zone">{words.told(placeOf(zone, language))}</p>;
  const other = <ZoneSelect zone={zone} device={device} onChoose={keep} />;
  if (!asks && (isChosen || device === zone))
    return (
      <details class="zone">
        <summary>{words.told(placeOf(zone, language))}</summary>
        {other}
        {refused && <RefusedNotice error={refused} />}
      </details>
    );
  return (
    <section class="note zone" aria-label={words.label}>
      <p>{asks ? words.onUtc : words.differ(placeOf(zone, language), placeOf(device, language))}</p>
      <p class="ways-on">
        {[...new Set(asks ? [device] : [zone, device])].map((one) => (
          <button type="button" key={one} onClick={() => keep(one)}>
            {words.take(placeOf(one, language))}
          </button>
        ))}
      </p>
      {other}
      {refused && <RefusedNotice error={refused} />}
    </section>
  );
}

interface ZoneSelectProps {
  zone: string;
  device: string;
  onChoose: (zone: string) => void;
}

function ZoneSelect({ zone, device, onChoose }: ZoneSelectProps) {
  const words = FEEDS_WORDS[useChoices().language].zone;
  const zones = [...new Set([zone, device, ...Intl.supportedValuesOf('timeZone')])].sort();
  return (
    <div class="field">
      <label for="zone">{words.label}</label>
      <select id="zone" value={zone} onChange={({ currentTarget }) => onChoose(currentTarget.value)}>
        {zones.map((one) => (
          <option key={one} value={one}>
            {one.replaceAll('_', ' ')}
          </option>
        ))}
      </select>
    </div>
  );
}
