/** Files that she can give to somebody else. Ebbline itself sends nothing. */
import { useState } from 'preact/hooks';
import { useChoices } from '../parts/choices.tsx';
import { graphAddress } from './feed-graph.tsx';
import { queryOf } from './query.ts';
import { FEEDS_WORDS } from './words.ts';

/** Saved graphs are drawn for paper size, whatever the screen. */
const SAVED_WIDTH_PX = 960;

export function HandOnFeed({ id, note }: { id: string; note: string | null }) {
  const { language, unit } = useChoices();
  const words = FEEDS_WORDS[language].handOn;
  const [hasNote, setHasNote] = useState(true);
  const [hasNames, setHasNames] = useState(false);
  const query = queryOf(language, unit, {
    names: hasNames ? '1' : undefined,
    note: hasNote ? undefined : '',
  });
  const file = (ending: string) => `/feeds/${encodeURIComponent(id)}/file.${ending}?${query}`;
  return (
    <>
      <p class="soft">{words.intro}</p>
      {note !== null && <Check label={words.withNote} on={hasNote} onChange={setHasNote} />}
      <Check label={words.withNames} on={hasNames} onChange={setHasNames} />
      <p class="saves">
        <Save href={file('html')} name={`ebbline-${id}.html`} text={words.page} />
        <Save href={file('pdf')} name={`ebbline-${id}.pdf`} text={words.sheet} />
        <Save
          href={graphAddress(id, 'png', language, unit, SAVED_WIDTH_PX)}
          name={`ebbline-${id}.png`}
          text={words.picture}
        />
        <Save
          href={graphAddress(id, 'svg', language, unit, SAVED_WIDTH_PX)}
          name={`ebbline-${id}.svg`}
          text={words.drawing}
        />
      </p>
    </>
  );
}

export function HandOnDay({ day, baby }: { day: string; baby: string }) {
  const { language, unit } = useChoices();
  const words = FEEDS_WORDS[language].handOn;
  const [note, setNote] = useState('');
  const [hasNames, setHasNames] = useState(false);
  const query = queryOf(language, unit, { day, baby, note, names: hasNames ? '1' : undefined });
  return (
    <>
      <p class="soft">{words.intro}</p>
      <div class="field">
        <label for="day-note">{words.note}</label>
        <textarea
          id="day-note"
          rows={2}
          maxLength={2000}
          value={note}
          onInput={({ currentTarget }) => setNote(currentTarget.value)}
        />
      </div>
      <Check label={words.withNames} on={hasNames} onChange={setHasNames} />
      <p class="saves">
        <Save href={`/day/file.html?${query}`} name={`ebbline-${day}.html`} text={words.page} />
      </p>
    </>
  );
}

function Save({ href, name, text }: { href: string; name: string; text: string }) {
  return (
    <a class="button" href={href} download={name}>
      {text}
    </a>
  );
}

export interface CheckProps {
  label: string;
  on: boolean;
  onChange: (on: boolean) => void;
}

export function Check({ label, on, onChange }: CheckProps) {
  return (
    <label class="check">
      <input type="checkbox" checked={on} onChange={({ currentTarget }) => onChange(currentTarget.checked)} />
      <span>{label}</span>
    </label>
  );
}
