/** Who fed, and free text about the feed. */
import { useLayoutEffect, useState } from 'preact/hooks';
import type { AfterAnswer } from '../../app/review/review-answers.ts';
import type { CorrectionContent } from '../../feed/record/written-by-hand.ts';
import { NameField } from '../before/name-field.tsx';
import { useChoices } from '../parts/choices.tsx';
import { NoteField } from '../parts/note-field.tsx';
import { useMay } from '../parts/right.tsx';
import type { PutBeside } from './after-page.tsx';
import { AFTER_WORDS } from './words.ts';

export interface WhoAndWhatProps {
  after: AfterAnswer;
  onPut: PutBeside;
  /** Called with true while the field holds text that is not stored. */
  onTyping: (isTyping: boolean) => void;
}

export function WhoAndWhat({ after, onPut, onTyping }: WhoAndWhatProps) {
  const { texts, language } = useChoices();
  const words = AFTER_WORDS[language];
  const isOwner = useMay()('owner');
  const [caregiver, setCaregiver] = useState(after.caregiver);
  const [note, setNote] = useState(after.note ?? '');
  const [kept, setKept] = useState(false);
  const corrections: CorrectionContent[] = [];
  if (note.trim() !== (after.note ?? '')) corrections.push({ kind: 'note', text: note.trim() });
  if ((caregiver?.trim() || null) !== after.caregiver)
    corrections.push({ kind: 'setup', setup: { caregiver: caregiver?.trim() || null } });
  const isTyping = corrections.length > 0;
  // As a layout effect: it must run before the next view, which may be the first of another feed.
  useLayoutEffect(() => onTyping(isTyping), [isTyping]);

  const keep = async (event: Event) => {
    event.preventDefault();
    setKept(await onPut(corrections));
  };
  return (
    <form class="before" onSubmit={keep} noValidate onInput={() => setKept(false)}>
      <h2>{words.who}</h2>
      {isOwner && (
        <NameField
          id="by"
          label={words.by}
          hint={texts.before.caregiverHint}
          value={caregiver}
          onChange={setCaregiver}
        />
      )}
      <NoteField label={words.note} hint={words.noteHint} note={note} onNote={setNote} />
      <button type="submit">{words.keep}</button>
      <p role="status">{kept ? words.kept : ''}</p>
    </form>
  );
}
