/** The evening before: tomorrow's hours are entered, bottles to pack are shown. */
import { useState } from 'preact/hooks';
import type { PackingStart } from '../../app/packing/packing-answers.ts';
import { keyOf } from '../../base/babies.ts';
import type { PackingSettings } from '../../planning/bag/packing-settings.ts';
import type { Guard } from '../live/guard.ts';
import { postJson, type Refused, useJson } from '../parts/ask.ts';
import { useChoices } from '../parts/choices.tsx';
import { OneOf } from '../parts/one-of.tsx';
import { ReadingPage } from '../parts/reading-page.tsx';
import { RefusedNotice } from '../parts/refused-notice.tsx';
import { addressOf } from '../parts/route.ts';
import { UnitChoice } from '../parts/ways.tsx';
import { WhoseNotice } from '../parts/whose-notice.tsx';
import { AskForm } from './ask-form.tsx';
import { Bag } from './bag.tsx';
import { ChoicesNotice } from './choices-notice.tsx';
import { GatesNotice } from './gates-notice.tsx';
import { PortionNotice } from './portion-notice.tsx';
import { PrintLinks } from './print-links.tsx';
import { RulesForm } from './rules-form.tsx';
import { TradeOff } from './trade-off.tsx';
import { type Ask, usePlan } from './use-plan.ts';
import { PACKING_WORDS, type PackingWords } from './words.ts';

export function PackingPage({ guard }: { guard: Guard }) {
  const { language, texts } = useChoices();
  const words = PACKING_WORDS[language];
  const start = useJson<PackingStart>('/packing');
  return (
    <ReadingPage title={words.title} page="packing" guard={guard}>
      <WhoseNotice />
      {guard.view?.simulated && <p class="simulated">{texts.live.simulated}</p>}
      {start.state === 'refused' && <RefusedNotice error={start.error} />}
      {start.state === 'here' && <Packing words={words} start={start.answer} />}
    </ReadingPage>
  );
}

/** Choices: on how many of 100 days the milk may run short. */
const LIMITS = ['2', '5', '10', '20'] as const;

function Packing({ words, start }: { words: PackingWords; start: PackingStart }) {
  const [settings, setSettings] = useState(start.settings);
  const [ask, setAsk] = useState<Ask>(() => firstAsk(start));
  const { answer, error } = usePlan(ask.birthDay === '' ? null : ask, settings);

  const keep = async (changed: PackingSettings): Promise<Refused | null> => {
    const posted = await postJson<PackingSettings>('/packing/settings', changed);
    if ('answer' in posted) setSettings(posted.answer);
    return 'error' in posted ? posted.error : null;
  };
  const change = (part: Partial<Ask>) => {
    const next = { ...ask, ...part };
    setAsk(next);
    // Remembered, so that they are filled in tomorrow evening.
    if ((part.from ?? part.until) && next.from !== '' && next.until !== '')
      void keep({ ...settings, usualHours: { from: next.from, until: next.until } });
  };
  const step = async (name: 'taken' | 'packed'): Promise<Refused | null> => {
    const posted = await postJson<unknown>('/milk', { [name]: ask });
    return 'error' in posted ? posted.error : null;
  };
  // Shown before the server has stored it.
  const [limit, showLimit] = useState(settings.shortLimit);
  const setLimit = async (shortLimit: number) => {
    showLimit(shortLimit);
    if (await keep({ ...settings, shortLimit })) showLimit(settings.shortLimit);
  };
  const isAtField =
    error !== null && ['birthDay', 'day', 'from', 'until', 'feeds'].includes(error.field ?? '');
  return (
    <div class="packing">
      <p class="soft">{words.intro}</p>
      <AskForm words={words} start={start} ask={ask} answer={answer} error={error} onChange={change} />
      <OnHand words={words} onHand={start.onHand} />
      {error && !isAtField && <RefusedNotice error={error} />}
      {answer && <GatesNotice words={words} answer={answer} />}
      {start.runningTeats.map((name) => (
        <p key={name} class="note">
          {words.nippleRuns(name)}
        </p>
      ))}
      {answer?.trouble && <RefusedNotice error={answer.trouble} lead={words.trouble} />}
      {answer?.plan && (
        <Bag
          words={words}
          answer={answer}
          plan={answer.plan}
          zone={start.zone}
          spareRule={settings.spare?.rule ?? 'last'}
          onStep={step}
        />
      )}
      {answer?.plan && answer.mayClaim && (
        <ChoicesNotice words={words} plan={answer.plan} shortLimit={limit} onChoose={setLimit} />
      )}
      {answer?.plan && answer.mayClaim && <TradeOff words={words} plan={answer.plan} />}
      {answer?.mayClaim && (
        <OneOf
          name="limit"
          label={words.mayBeShort}
          choices={LIMITS.map((value) => ({ value, text: value }))}
          value={LIMITS.find((one) => Number(one) === Math.round(100 * limit)) ?? null}
          onChoose={(value) => setLimit(Number(value) / 100)}
        />
      )}
      {answer && <PortionNotice words={words} answer={answer} />}
      {answer && (
        <PrintLinks words={words} answer={answer} baby={ask.baby} hasCall={settings.parent !== null} />
      )}
      <RulesForm words={words} settings={settings} onKeep={keep} />
      <UnitChoice />
    </div>
  );
}

function firstAsk({ babies, settings, tomorrow }: PackingStart): Ask {
  const [baby] = babies;
  return {
    baby: baby ? keyOf(baby) || null : null,
    birthDay: baby?.birthDay ?? '',
    day: tomorrow,
    ...settings.usualHours,
    feeds: null,
    ill: false,
  };
}

function OnHand({ words, onHand }: { words: PackingWords; onHand: PackingStart['onHand'] }) {
  const { volume } = useChoices();
  return (
    <p class="on-hand">
      {onHand ? words.milkOnHand(volume(onHand.fridgeMl), volume(onHand.freezerMl)) : words.noMilk}{' '}
      <a href={addressOf({ page: 'milk' })}>{words.toMilk}</a>
    </p>
  );
}
