/** How much milk is left over, and until when it may be used by published times or the place's own rule. */
import { useState } from 'preact/hooks';
import type { AfterAnswer } from '../../app/review/review-answers.ts';
import type { MilkKind } from '../../feed/record/feed.ts';
import { timeText } from '../feeds/days.ts';
import { useChoices } from '../parts/choices.tsx';
import { choicesOf, OneOf } from '../parts/one-of.tsx';
import { useMay } from '../parts/right.tsx';
import type { PutBeside } from './after-page.tsx';
import { AFTER_WORDS, type AfterWords } from './words.ts';

/** Less is only a film in the bottle, and within the sleeve's uncertainty. */
const HARDLY_ML = 3;
const MILK_KINDS: readonly MilkKind[] = ['expressed', 'formula', 'mixed'];

export function LeftOver({ after, onPut }: { after: AfterAnswer; onPut: PutBeside }) {
  const { texts, language, volume } = useChoices();
  const words = AFTER_WORDS[language];
  const { leftMl, isWeighed, milkKind, uses } = after;
  const isOwner = useMay()('owner');
  // Shown before the server's answer comes.
  const [chosen, setChosen] = useState<MilkKind | null>(null);
  const choose = async (kind: MilkKind) => {
    setChosen(kind);
    if (!(await onPut([{ kind: 'setup', setup: { milkKind: kind } }]))) setChosen(null);
  };
  const isWorthATime = leftMl === null || leftMl >= HARDLY_ML;
  const [first] = uses;
  const later = uses.find(({ from, authority }) => from === 'end' && authority !== null);
  const clock = (atMs: number) => timeText(atMs, { language, zone: after.zone });
  return (
    <section class="left-over" aria-labelledby="left-over">
      <h2 id="left-over">{words.left}</h2>
      <p>
        {leftMl === null && words.leftUnknown}
        {leftMl !== null && (isWorthATime ? words.leftOver(volume(leftMl)) : words.leftNone)}{' '}
        {isWeighed && words.byWeight}
      </p>
      {isWorthATime && first && (
        <p>
          <strong>{untilText(first, after.nowMs, words, clock)}</strong>{' '}
          {first.rule === null ? `${first.authority}.` : words.rule(first.rule)}{' '}
          {later?.authority &&
            later !== first &&
            words.beside(later.authority, clock(later.untilMs), later.hours)}{' '}
          {words.first}
        </p>
      )}
      {isWorthATime && isOwner && milkKind === null && <p>{words.whichMilk}</p>}
      {isWorthATime && isOwner && (
        <OneOf
          name="milk"
          label={texts.before.milk}
          choices={choicesOf(MILK_KINDS, texts.before.milkKinds)}
          value={chosen ?? milkKind}
          onChoose={choose}
        />
      )}
    </section>
  );
}

function untilText(
  { from, untilMs, hours }: AfterAnswer['uses'][number],
  nowMs: number,
  words: AfterWords,
  timeOf: (atMs: number) => string,
): string {
  if (untilMs <= nowMs) return words.passed(timeOf(untilMs));
  return `${words.until[from](timeOf(untilMs), hours)} ${words.thenAway}`;
}
