/** Before a feed: one screen; every field may be skipped; the last values are offered again. */
import { useState } from 'preact/hooks';
import type { BabiesAnswer } from '../../app/babies/baby-answers.ts';
import type { FeedSetup } from '../../feed/record/feed.ts';
import type { FeedListAnswer } from '../../server/answers.ts';
import type { Guard } from '../live/guard.ts';
import { type Refused, send, useJson } from '../parts/ask.ts';
import { CalibrationLine } from '../parts/calibration-line.tsx';
import { useChoices } from '../parts/choices.tsx';
import { ReadingPage } from '../parts/reading-page.tsx';
import { RefusedNotice } from '../parts/refused-notice.tsx';
import { addressOf } from '../parts/route.ts';
import { BeforeForm } from './before-form.tsx';
import { knownFrom } from './known.ts';
import { Steps } from './steps.tsx';

const goLive = () => {
  location.hash = addressOf({ page: 'live' });
};

export function BeforePage({ guard }: { guard: Guard }) {
  const { texts } = useChoices();
  const [edited, setEdited] = useState<FeedSetup | null>(null);
  const [refused, setRefused] = useState<Refused | null>(null);
  const feeds = useJson<FeedListAnswer>('/feeds');
  const babies = useJson<BabiesAnswer>('/babies');
  const kept = guard.view?.setup;
  const setup = edited ?? kept;
  const earlier = feeds.state === 'here' ? feeds.answer.feeds.map((feed) => feed.setup) : [];

  const keep = async () => {
    if (!setup) return;
    const error = await send({ kind: 'setup', setup });
    setRefused(error);
    if (!error) goLive();
  };
  return (
    <ReadingPage title={texts.before.title} page="before" guard={guard}>
      <p class="soft">{texts.before.intro}</p>
      <Steps />
      {typeof guard.view?.batteryPercent === 'number' && (
        <p class="soft">{texts.before.battery(guard.view.batteryPercent)}</p>
      )}
      {guard.view?.calibration && (
        <p role="status">
          <CalibrationLine view={guard.view} />
        </p>
      )}
      {setup ? (
        <BeforeForm
          setup={setup}
          known={knownFrom(kept ? [kept, ...earlier] : earlier)}
          babies={babies.state === 'here' ? babies.answer.babies : null}
          sleeve={guard.view?.linkLabel ?? ''}
          refused={refused}
          onChange={(part) => setEdited({ ...setup, ...part })}
          onKeep={keep}
          onSkip={goLive}
        />
      ) : (
        guard.shown && <RefusedNotice error={{ code: 'unreached', message: '', remedy: '' }} />
      )}
    </ReadingPage>
  );
}
