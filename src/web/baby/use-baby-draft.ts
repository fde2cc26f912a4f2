/** State of the form for a baby: the draft and its result. */
import { useEffect, useState } from 'preact/hooks';
import type { BabyAnswer } from '../../app/babies/baby-answers.ts';
import type { Guard } from '../live/guard.ts';
import { postJson, type Refused, send } from '../parts/ask.ts';
import { addressOf } from '../parts/route.ts';
import { type Draft, draftOf, entryOf, NEW_DRAFT } from './draft.ts';

/** @param known the stored baby; null for a new one */
export function useBabyDraft(guard: Guard, known: BabyAnswer | null) {
  const [draft, setDraft] = useState<Draft>(known ? draftOf(known.baby) : NEW_DRAFT);
  const [kept, setKept] = useState<BabyAnswer | null>(null);
  const [refused, setRefused] = useState<Refused | null>(null);
  useEffect(() => {
    if (refused?.field) document.querySelector('.refused[id]')?.scrollIntoView({ block: 'center' });
  }, [refused]);
  const baby = kept?.baby ?? known?.baby ?? null;
  const change = (part: Partial<Draft>) => {
    setDraft({ ...draft, ...part });
    setKept(null);
  };
  const keep = async (event: Event) => {
    event.preventDefault();
    const posted = await postJson<BabyAnswer>(baby ? `/babies/${baby.id}` : '/babies', entryOf(draft));
    setRefused('error' in posted ? posted.error : null);
    if ('answer' in posted) setKept(posted.answer);
  };
  const goOn = async () => {
    if (!kept || !guard.view) return;
    const { id: babyId, name: babyName, birthDate: babyBirthDate } = kept.baby;
    const error = await send({
      kind: 'setup',
      setup: { ...guard.view.setup, babyId, babyName, babyBirthDate },
    });
    setRefused(error);
    if (!error) location.hash = addressOf({ page: 'before' });
  };
  return { draft, kept, refused, setRefused, change, keep, goOn };
}
