/** All entries, newest first; a mistaken one is taken back and stays in the list, struck through. */
import type { LedgerLine } from '../../planning/milk/stored-ledger.ts';
import { useChoices } from '../parts/choices.tsx';
import { useMay } from '../parts/right.tsx';
import { whenText } from './format.ts';
import type { EnterMilk } from './use-milk.ts';
import type { PackingWords } from './words.ts';

export interface EnteredProps {
  words: PackingWords;
  lines: LedgerLine[];
  /** The family's time zone. */
  zone: string;
  now: () => number;
  onEnter: EnterMilk;
}

export function Entered({ words, lines, zone, now, onEnter }: EnteredProps) {
  const { volume, language } = useChoices();
  const isOwner = useMay()('owner');
  if (lines.length === 0) return null;
  const aboutOf = ({ entry }: LedgerLine): string => {
    if (entry.what === 'got') return `${entry.id}, ${volume(entry.ml)}`;
    if (entry.what === 'fed') return entry.taken.map(({ id, ml }) => `${id}, ${volume(ml)}`).join('; ');
    if (entry.what === 'promised') return entry.ids.join(', ');
    if (entry.what === 'went') return entry.short ? words.milk.evening.short : words.milk.evening.enough;
    return entry.what === 'poured' ? entry.into : entry.id;
  };
  return (
    <details>
      <summary>{words.milk.entered}</summary>
      <ul class="entered">
        {lines.map((line) => (
          <li key={line.no}>
            <span class={line.takenBack ? 'taken-back' : undefined}>
              {whenText(line.entry.atMs, { language, zone, nowMs: now() })}: {aboutOf(line)}{' '}
              {words.milk.lines[line.entry.what]}
            </span>{' '}
            {line.takenBack && <span class="soft">{words.milk.takenBack}</span>}
            {!line.takenBack && isOwner && (
              <button
                type="button"
                class="wordy"
                onClick={() => void onEnter({ entries: [{ what: 'taken-back', atMs: now(), no: line.no }] })}
              >
                {words.milk.takeBack}
              </button>
            )}
          </li>
        ))}
      </ul>
    </details>
  );
}
