/** The center's time limits, one a row: where the milk is, how many hours, who set the rule. */
import type { PackingSettings } from '../../planning/bag/packing-settings.ts';
import type { PackingWords } from './words.ts';

type CenterTime = PackingSettings['centerTimes'][number];

const SITUATIONS = [
  'fridge',
  'freezer',
  'cooler',
  'room',
  'thawed-fridge',
  'warmed',
  'drunk-from',
  'after-feed',
  'feed-started',
  'made',
] as const satisfies readonly CenterTime['situation'][];

export interface CenterTimesProps {
  words: PackingWords;
  times: CenterTime[];
  onChange: (times: CenterTime[]) => void;
}

export function CenterTimes({ words, times, onChange }: CenterTimesProps) {
  const set = (i: number, part: Partial<CenterTime>) => onChange(times.with(i, { ...times[i]!, ...part }));
  return (
    <fieldset class="one-of">
      <legend>{words.centerTimes}</legend>
      {times.map((time, i) => (
        <div key={`${i} of ${times.length}`} class="center-time">
          <select
            aria-label={words.centerTimes}
            value={time.situation}
            onChange={(event) => set(i, { situation: event.currentTarget.value as CenterTime['situation'] })}
          >
            {SITUATIONS.map((situation) => (
              <option key={situation} value={situation}>
                {words.milk.situations[situation]}
              </option>
            ))}
          </select>
          <input
            aria-label={words.hours}
            type="number"
            inputMode="decimal"
            min="0.5"
            step="0.5"
            value={time.hours}
            onInput={(event) => set(i, { hours: event.currentTarget.valueAsNumber })}
          />
          <input
            aria-label={words.whose}
            placeholder={words.whose}
            type="text"
            maxLength={80}
            value={time.name}
            onInput={(event) => set(i, { name: event.currentTarget.value })}
          />
          <button type="button" class="wordy" onClick={() => onChange(times.toSpliced(i, 1))}>
            {words.remove}
          </button>
        </div>
      ))}
      <button
        type="button"
        onClick={() => onChange([...times, { situation: 'fridge', hours: 24, name: '' }])}
      >
        {words.addTime}
      </button>
    </fieldset>
  );
}
