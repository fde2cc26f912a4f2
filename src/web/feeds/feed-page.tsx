/** One kept feed: a sentence, its graph, its values. */
import type { FeedAnswer, MinuteRow } from '../../server/answers.ts';
import { flOzFromMl, type VolumeUnit } from '../../units.ts';
import type { Guard } from '../live/guard.ts';
import { useJson } from '../parts/ask.ts';
import { UNIT_SIGN, useChoices, VOLUME_UNITS } from '../parts/choices.tsx';
import { ReadingPage } from '../parts/reading-page.tsx';
import { RefusedNote } from '../parts/refused-note.tsx';
import { addressOf } from '../parts/route.ts';
import { UnitChoice } from '../parts/ways.tsx';
import { dayText, timeText } from './days.ts';
import { sentences } from './sentence.ts';
import { graphAddress, SessionGraph } from './session-graph.tsx';

/** Saved graphs are drawn for a sheet of paper, whatever the screen. */
const SAVED_WIDTH_PX = 960;

export function FeedPage({ id, guard }: { id: string; guard: Guard }) {
  const { texts, language } = useChoices();
  const answer = useJson<FeedAnswer>(`/feeds/${encodeURIComponent(id)}`);
  const title =
    answer.state === 'here'
      ? `${dayText(answer.answer.feed.startedAtMs, language)}, ${timeText(answer.answer.feed.startedAtMs, language)}`
      : texts.feed.title;
  return (
    <ReadingPage title={title} page="feed" guard={guard}>
      {answer.state === 'asking' && <p class="soft">{texts.feeds.asking}</p>}
      {answer.state === 'refused' && <RefusedNote error={answer.error} />}
      {answer.state === 'here' && <OneFeed answer={answer.answer} />}
      <p>
        <a href={addressOf({ page: 'feeds' })}>{texts.feed.allFeeds}</a>
      </p>
    </ReadingPage>
  );
}

function OneFeed({ answer }: { answer: FeedAnswer }) {
  const { texts, unit, volume } = useChoices();
  const { feed } = answer;
  const [first, ...rest] = sentences(answer, texts, volume);
  const about = [
    feed.setup.babyName,
    feed.setup.milkKind && texts.before.milkKinds[feed.setup.milkKind],
    feed.setup.bottleName,
    feed.setup.caregiver,
  ].filter(Boolean);
  return (
    <>
      {feed.simulated && <p class="simulated">{texts.feeds.simulatedLong}</p>}
      {about.length > 0 && <p class="soft">{about.join(' · ')}</p>}
      <p class="lead">{first}</p>
      <p>
        {rest.join(' ')} {feed.endReason ? texts.feed.ended[feed.endReason] : texts.feed.stillOpen}
        {feed.endReason && !answer.refined ? ` ${texts.feed.notRefined}` : ''}
      </p>
      <h2>{texts.feed.graph}</h2>
      <SessionGraph id={feed.id} />
      <p class="saves">
        <a
          class="button"
          href={graphAddress(feed.id, 'svg', unit, SAVED_WIDTH_PX)}
          download={`ebbline-${feed.id}.svg`}
        >
          {texts.feed.downloadSvg}
        </a>
        <a
          class="button"
          href={graphAddress(feed.id, 'png', unit, SAVED_WIDTH_PX)}
          download={`ebbline-${feed.id}.png`}
        >
          {texts.feed.downloadPng}
        </a>
      </p>
      <h2 id="minutes">{texts.feed.table}</h2>
      {answer.perMinute.length === 0 ? <p>{texts.feed.noMinutes}</p> : <Minutes rows={answer.perMinute} />}
      <UnitChoice />
    </>
  );
}

/** The sentence above is rounded for people; the table is not. */
const inUnit = (ml: number, unit: VolumeUnit): string =>
  unit === 'ml' ? ml.toFixed(1) : flOzFromMl(ml).toFixed(2);

function Minutes({ rows }: { rows: MinuteRow[] }) {
  const { texts, words, unit: first } = useChoices();
  const units = [...VOLUME_UNITS].sort((a, b) => Number(b === first) - Number(a === first));
  return (
    <table class="minutes" aria-labelledby="minutes">
      <thead>
        <tr>
          <th scope="col">{texts.feed.minute}</th>
          <th scope="col">{texts.feed.taken}, mL</th>
          {units.map((unit) => (
            <th scope="col" key={unit}>
              {texts.feed.soFar}, {UNIT_SIGN[unit]}
            </th>
          ))}
          <th scope="col">{texts.feed.cuesThen}</th>
        </tr>
      </thead>
      <tbody>
        {rows.map((row) => (
          <tr key={row.minute}>
            <th scope="row">{row.minute}</th>
            <td>{row.takenMl.toFixed(1)}</td>
            {units.map((unit) => (
              <td key={unit}>{inUnit(row.takenSoFarMl, unit)}</td>
            ))}
            <td>{row.cues.map((kind) => words.shown[kind].glance).join(', ')}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
