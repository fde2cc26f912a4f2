/** What somebody puts beside a feed: the reading off the bottle's own marks, a note. */
import { useState } from 'preact/hooks';
import type { FeedTelling } from '../../app/review/review-answers.ts';
import type { Refused } from '../parts/ask.ts';
import { useChoices } from '../parts/choices.tsx';
import { RefusedNote } from '../parts/refused-note.tsx';
import { useMay } from '../parts/right.tsx';
import { AmountField, fieldText, mlOf } from './amount-field.tsx';
import { postJson } from './requests.ts';
import { FEEDS_WORDS } from './words.ts';

export interface BesideFormProps {
  id: string;
  beside: FeedTelling['beside'];
  asked: string;
  onTold: (telling: FeedTelling) => void;
}

export function BesideForm({ id, beside, asked, onTold }: BesideFormProps) {
  const { language, unit } = useChoices();
  const words = FEEDS_WORDS[language].beside;
  const isOwner = useMay()('owner');
  const [offered, setOffered] = useState(fieldText(beside.offeredMl, unit));
  const [left, setLeft] = useState(fieldText(beside.leftMl, unit));
  const [note, setNote] = useState(beside.note ?? '');
  const [by, setBy] = useState('');
  const [refused, setRefused] = useState<Refused | null>(null);
  const [kept, setKept] = useState(false);

  /** Only what was changed is sent; each stands beside the feed by itself. */
  const corrections = (): object[] | Refused => {
    const [offeredMl, leftMl] = [mlOf(offered, unit), mlOf(left, unit)];
    const isNew = offered !== fieldText(beside.offeredMl, unit) || left !== fieldText(beside.leftMl, unit);
    const list: object[] = [];
    for (const [field, ml] of [
      ['offeredMl', offeredMl],
      ['leftMl', leftMl],
    ] as const) {
      if (Number.isNaN(ml) || (isNew && field === 'leftMl' && ml === null))
        return { code: 'entry-invalid', field, message: words.mayNotBeEmpty, remedy: '' };
    }
    if (isNew) list.push({ kind: 'bottle-reading', offeredMl, leftMl });
    if (note.trim() !== (beside.note ?? '')) list.push({ kind: 'note', text: note.trim() });
    return list;
  };
  const keep = async (event: Event) => {
    event.preventDefault();
    setKept(false);
    const list = corrections();
    if (!Array.isArray(list)) return setRefused(list);
    for (const correction of list) {
      const posted = await postJson<FeedTelling>(`/feeds/${encodeURIComponent(id)}/corrections?${asked}`, {
        correction,
        by: by.trim() || null,
      });
      if ('error' in posted) return setRefused(posted.error);
      onTold(posted.answer);
    }
    setRefused(null);
    setKept(list.length > 0);
  };
  const at = (field: string) => (refused?.field === field ? refused : null);
  const isElsewhere = refused !== null && refused.field !== 'offeredMl' && refused.field !== 'leftMl';
  return (
    <form class="beside" onSubmit={keep} noValidate>
      <p class="soft">{words.intro}</p>
      {/* Whoever helps writes a note; amounts are the owner's. */}
      {isOwner && (
        <div class="side-by-side">
          <AmountField
            id="offered"
            label={words.offered}
            text={offered}
            onText={setOffered}
            error={at('offeredMl')}
          />
          <AmountField id="left" label={words.left} text={left} onText={setLeft} error={at('leftMl')} />
        </div>
      )}
      <div class="field">
        <label for="note">{words.note}</label>
        <textarea
          id="note"
          rows={3}
          maxLength={2000}
          placeholder={words.noteHint}
          value={note}
          onInput={({ currentTarget }) => setNote(currentTarget.value)}
        />
      </div>
      <div class="field">
        <label for="by">{words.by}</label>
        <input
          id="by"
          autocomplete="off"
          maxLength={80}
          value={by}
          onInput={({ currentTarget }) => setBy(currentTarget.value)}
        />
      </div>
      {isElsewhere && <RefusedNote error={refused} />}
      <button type="submit">{words.keep}</button>
      <p role="status">{kept ? words.kept : ''}</p>
    </form>
  );
}
