/** What the next shift needs to know about each child; a parent sees the same for their own child. */
import type { HandoverAnswer, HandoverChild } from '../../app/ward/ward-answers.ts';
import { useJson } from '../parts/ask.ts';
import { useChoices } from '../parts/choices.tsx';
import { Unanswered } from '../parts/unanswered.tsx';
import { BOARD_WORDS } from './board-words.ts';
import { instantHere } from './times.ts';
import { WARD_WORDS } from './ward-words.ts';
import { WideTable } from './wide-table.tsx';

export function HandoverPage({ of }: { of: 'shift' | 'own' }) {
  const { language, texts } = useChoices();
  const own = WARD_WORDS[language];
  const answer = useJson<HandoverAnswer>(of === 'own' ? '/own' : '/handover');
  return (
    <div class="handover">
      <h2>{of === 'own' ? own.own : own.handover}</h2>
      {of === 'shift' && (
        <a class="button" href={`/handover.pdf?language=${language}`} target="_blank" rel="noreferrer">
          {own.print}
        </a>
      )}
      <Unanswered of={answer} asking={texts.live.oneMoment} />
      {answer.state === 'here' && answer.answer.children.length === 0 && <p>{own.noFeeds}</p>}
      {answer.state === 'here' &&
        answer.answer.children.map((child) => <Child key={child.cot + child.name} child={child} />)}
    </div>
  );
}

function Child({ child }: { child: HandoverChild }) {
  const { language, volume } = useChoices();
  const own = WARD_WORDS[language];
  const amount = (ml: number | null): string => (ml === null ? '' : volume(ml));
  const until = (atMs: number | null): string =>
    atMs === null ? '' : atMs <= Date.now() ? own.passed : instantHere(atMs, language);
  const name = child.cot === '' ? child.name : `${BOARD_WORDS[language].cot(child.cot)}: ${child.name}`;
  return (
    <section>
      <h3>{name}</h3>
      {child.feeds.length === 0 ? (
        <p>{own.noFeeds}</p>
      ) : (
        <WideTable
          label={name}
          columns={own.columns}
          rows={child.feeds.map((feed) => [
            instantHere(feed.atMs, language),
            feed.kind === 'bottle' ? amount(feed.takenMl) : own[feed.kind],
            amount(feed.leftMl),
            until(feed.leftUntilMs),
            feed.fedBy,
            feed.note,
          ])}
        />
      )}
      {child.milk.length > 0 && (
        <>
          <p>{own.milk}</p>
          <ul>
            {child.milk.map(({ label, ml, useByMs }) => (
              <li key={label}>
                {label}: {volume(ml)}, {own.usedBy} {until(useByMs)}
              </li>
            ))}
          </ul>
        </>
      )}
    </section>
  );
}
