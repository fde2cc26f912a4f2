/** Corrections to a feed: the amount read from the bottle's own marks, and free text. */
import { useState } from 'preact/hooks';
import type { FeedTelling } from '../../app/review/review-answers.ts';
import type { VolumeUnit } from '../../base/units.ts';
import type { CorrectionContent } from '../../feed/record/written-by-hand.ts';
import { NameField } from '../before/name-field.tsx';
import { postJson, type Refused } from '../parts/ask.ts';
import { useChoices } from '../parts/choices.tsx';
import { NoteField } from '../parts/note-field.tsx';
import { RefusedNotice } from '../parts/refused-notice.tsx';
import { useMay } from '../parts/right.tsx';
import { BottleAmounts, fieldText, mlOf } from './amount-field.tsx';
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
  const [by, setBy] = useState<string | null>(null);
  const [refused, setRefused] = useState<Refused | null>(null);
  const [kept, setKept] = useState(false);

  const keep = async (event: Event) => {
    event.preventDefault();
    setKept(false);
    const list = correctionsOf({ offered, left, note }, beside, unit);
    if (typeof list === 'string')
      return setRefused({ code: 'entry-invalid', field: list, message: words.mayNotBeEmpty, remedy: '' });
    for (const correction of list) {
      const posted = await postJson<FeedTelling>(`/feeds/${encodeURIComponent(id)}/corrections?${asked}`, {
        correction,
        by: by?.trim() || null,
      });
      if ('error' in posted) return setRefused(posted.error);
      onTold(posted.answer);
    }
    setRefused(null);
    setKept(list.length > 0);
  };
  const isElsewhere = refused !== null && refused.field !== 'offeredMl' && refused.field !== 'leftMl';
  return (
    <form class="beside" onSubmit={keep} noValidate>
      <p class="soft">{words.intro}</p>
      {/* A helper may write free text; only the owner may enter amounts. */}
      {isOwner && (
        <BottleAmounts
          words={words}
          offered={offered}
          left={left}
          onOffered={setOffered}
          onLeft={setLeft}
          refused={refused}
        />
      )}
      <NoteField label={words.note} hint={words.noteHint} note={note} onNote={setNote} />
      <NameField id="by" label={words.by} value={by} onChange={setBy} />
      {isElsewhere && <RefusedNotice error={refused} />}
      <button type="submit">{words.keep}</button>
      <p role="status">{kept ? words.kept : ''}</p>
    </form>
  );
}

/** Only changed fields are sent, each as a correction of its own. @returns corrections, or the field that holds no amount */
function correctionsOf(
  typed: { offered: string; left: string; note: string },
  beside: FeedTelling['beside'],
  unit: VolumeUnit,
): CorrectionContent[] | 'offeredMl' | 'leftMl' {
  const [offeredMl, leftMl] = [mlOf(typed.offered, unit), mlOf(typed.left, unit)];
  const isNew =
    typed.offered !== fieldText(beside.offeredMl, unit) || typed.left !== fieldText(beside.leftMl, unit);
  if (Number.isNaN(offeredMl)) return 'offeredMl';
  if (Number.isNaN(leftMl)) return 'leftMl';
  const list: CorrectionContent[] = [];
  if (isNew) {
    if (leftMl === null) return 'leftMl';
    list.push({ kind: 'bottle-reading', offeredMl, leftMl });
  }
  if (typed.note.trim() !== (beside.note ?? '')) list.push({ kind: 'note', text: typed.note.trim() });
  return list;
}
