/** Stored babies, each chosen by one touch, and the guidance for the next feed of the chosen one. */
import { useState } from 'preact/hooks';
import type { BabyAnswer } from '../../app/babies/baby-answers.ts';
import type { NoticeKind } from '../../feed/live/live-view.ts';
import type { FeedSetup } from '../../feed/record/feed.ts';
import { noticeText } from '../live/notices.ts';
import { postJson, UNREACHED } from '../parts/ask.ts';
import { useChoices } from '../parts/choices.tsx';
import { RefusedNotice } from '../parts/refused-notice.tsx';
import { addressOf } from '../parts/route.ts';
import { BEFORE_WORDS } from './words.ts';

export interface KeptBabiesProps {
  setup: FeedSetup;
  babies: readonly BabyAnswer[];
  onChange: (part: Partial<FeedSetup>) => void;
}

const POURS: readonly NoticeKind[] = ['nipple-pours', 'slow-nipple-pours'];
const NOBODY: Partial<FeedSetup> = { babyId: null, babyName: null, babyBirthDate: null };

export function KeptBabies({ setup, babies, onChange }: KeptBabiesProps) {
  const { language, texts } = useChoices();
  const words = BEFORE_WORDS[language];
  const way = (text: string, id: string | null) => (
    <p>
      <a href={addressOf({ page: 'baby', id })}>{text}</a>
    </p>
  );
  if (babies.length === 0) return way(words.addBaby, null);
  const chosen = babies.find(({ baby }) => baby.id === setup.babyId);
  return (
    <fieldset class="one-of">
      <legend>{texts.before.baby}</legend>
      <div class="one-of-row">
        {babies.map(({ baby: { id, name, birthDate } }) => (
          <label key={id}>
            <input
              type="radio"
              name="baby"
              checked={id === setup.babyId}
              onChange={() => onChange({ babyId: id, babyName: name, babyBirthDate: birthDate })}
            />
            <span>{name}</span>
          </label>
        ))}
        <label>
          <input type="radio" name="baby" checked={!chosen} onChange={() => onChange(NOBODY)} />
          <span>{texts.before.otherBaby}</span>
        </label>
      </div>
      {chosen && <WhatFollows key={chosen.baby.id} of={chosen} />}
      {chosen ? way(words.about(chosen.baby.name), chosen.baby.id) : way(words.addBaby, null)}
    </fieldset>
  );
}

function WhatFollows({ of }: { of: BabyAnswer }) {
  const { language, words } = useChoices();
  const [notices, setNotices] = useState(of.notices);
  const [failed, setFailed] = useState(false);
  const giveAll = async () => {
    const address = `/babies/${encodeURIComponent(of.baby.id)}/undo-quiet`;
    const posted = await postJson<BabyAnswer>(address);
    setFailed('error' in posted);
    if ('answer' in posted) setNotices(posted.answer.notices);
  };
  return (
    <div role="status">
      {notices.map((kind) => (
        <p key={kind}>{noticeText(kind, language, words)}</p>
      ))}
      {!of.baby.choices.suckRhythm && notices.some((kind) => POURS.includes(kind)) && (
        <p>
          {BEFORE_WORDS[language].restsOffered}{' '}
          <a href={addressOf({ page: 'baby', id: of.baby.id })}>{BEFORE_WORDS[language].restsWay}</a>
        </p>
      )}
      {notices.some((kind) => kind === 'quieter' || kind === 'quietest') && (
        <button type="button" onClick={giveAll}>
          {BEFORE_WORDS[language].asBefore}
        </button>
      )}
      {failed && <RefusedNotice error={UNREACHED} />}
    </div>
  );
}
