/** One stored feed: summary sentence, graph, values, corrections, files to hand on. */
import { useState } from 'preact/hooks';
import type { FeedTelling } from '../../app/review/review-answers.ts';
import type { Language } from '../../pacing/cues/words.ts';
import type { Guard } from '../live/guard.ts';
import { useJson } from '../parts/ask.ts';
import { useChoices } from '../parts/choices.tsx';
import { ReadingPage } from '../parts/reading-page.tsx';
import { useMay } from '../parts/right.tsx';
import { addressOf } from '../parts/route.ts';
import { Unanswered } from '../parts/unanswered.tsx';
import { UnitChoice } from '../parts/ways.tsx';
import { BesideForm } from './beside-form.tsx';
import { CompareWith } from './compare-with.tsx';
import { dayText, timeText } from './days.ts';
import { FeedGraph } from './feed-graph.tsx';
import { HandOnFeed } from './hand-on.tsx';
import { queryOf } from './query.ts';
import { ToldTable } from './told-table.tsx';
import { FEEDS_WORDS } from './words.ts';

export function FeedPage({ id, guard }: { id: string; guard: Guard }) {
  const { texts, language, unit } = useChoices();
  const asked = queryOf(language, unit);
  const telling = useJson<FeedTelling>(`/feeds/${encodeURIComponent(id)}/told?${asked}`);
  const title = telling.state === 'here' ? titleOf(telling.answer, language) : texts.feed.title;
  return (
    <ReadingPage title={title} page="feed" guard={guard}>
      <Unanswered of={telling} />
      {telling.state === 'here' && <OneFeed first={telling.answer} asked={asked} key={asked} />}
      <p>
        <a href={addressOf({ page: 'feeds' })}>{texts.feed.allFeeds}</a>
      </p>
    </ReadingPage>
  );
}

function titleOf({ zone, feed }: FeedTelling, language: Language): string {
  const reading = { language, zone, nowMs: Date.now() };
  return `${dayText(feed.atMs, reading)}, ${timeText(feed.atMs, reading)}`;
}

interface OneFeedProps {
  first: FeedTelling;
  asked: string;
}

function OneFeed({ first, asked }: OneFeedProps) {
  const { texts, language } = useChoices();
  const words = FEEDS_WORDS[language];
  const may = useMay();
  const [{ told, feed, beside, nipple, zone }, setTelling] = useState(first);
  const about = [
    feed.setup.babyName,
    feed.setup.milkKind && texts.before.milkKinds[feed.setup.milkKind],
    feed.setup.bottleName,
    feed.setup.teatName,
    feed.setup.caregiver,
  ].filter(Boolean);
  return (
    <div class="told">
      {feed.simulated && <p class="simulated">{texts.feeds.simulatedLong}</p>}
      {about.length > 0 && <p class="soft">{about.join(' · ')}</p>}
      <p class="lead">{told.sentence}</p>
      {told.reading && <p class="by-marks">{told.reading}</p>}
      {told.note && <p class="note">{told.note}</p>}
      <p>
        {told.facts.join(' ')} {told.ended}
        {feed.isEnded && !feed.isRefined ? ` ${texts.feed.notRefined}` : ''}
      </p>
      {nipple && <Nipple nipple={nipple} zone={zone} />}
      <h2>{texts.feed.graph}</h2>
      {/* Drawn again after a correction. */}
      <FeedGraph id={feed.id} key={JSON.stringify(beside)} />
      <h2>{words.cues}</h2>
      {told.cuesNote && <p class="soft">{told.cuesNote}</p>}
      {told.cues.length === 0 && !told.cuesNote ? <p>{words.noCues}</p> : <Cues cues={told.cues} />}
      <details>
        <summary>{words.figures}</summary>
        {told.figures.map((line) => (
          <p key={line}>{line}</p>
        ))}
        <p class="soft small">{told.bandNote}</p>
        <p class="soft small">{told.provenance}</p>
      </details>
      <details>
        <summary>{words.table}</summary>
        {told.table.rows.length === 0 ? (
          <p>{texts.feed.noMinutes}</p>
        ) : (
          <ToldTable
            label={words.table}
            heads={told.table.heads}
            rows={told.table.rows.map((cells) => ({ key: cells[0]!, cells }))}
          />
        )}
      </details>
      {may('help') && (
        <details>
          <summary>{words.beside.title}</summary>
          <BesideForm id={feed.id} beside={beside} asked={asked} onTold={setTelling} />
        </details>
      )}
      <details>
        <summary>{words.handOn.title}</summary>
        <HandOnFeed id={feed.id} note={beside.note} />
      </details>
      <details>
        <summary>{words.compare.with}</summary>
        <CompareWith id={feed.id} />
      </details>
      <UnitChoice />
    </div>
  );
}

/** The measured flow of the nipple, and whether this feed agrees with it. */
function Nipple({ nipple, zone }: { nipple: NonNullable<FeedTelling['nipple']>; zone: string }) {
  const { language } = useChoices();
  const words = FEEDS_WORDS[language].nipple;
  const { measuredAtMs, measuredMlPerMin, suctionMmHg, gaveMlPerMin, mostMlPerMin, isFaster } = nipple;
  const day = dayText(measuredAtMs, { language, zone, nowMs: Date.now() });
  const flow = (mlPerMin: number): string => mlPerMin.toFixed(0);
  return (
    <p class={isFaster ? 'note' : 'soft'}>
      {words.measured(day, flow(measuredMlPerMin), suctionMmHg)}{' '}
      {isFaster ? words.faster(flow(gaveMlPerMin), flow(mostMlPerMin), suctionMmHg) : words.asMeasured}
    </p>
  );
}

function Cues({ cues }: { cues: FeedTelling['told']['cues'] }) {
  return (
    <ol class="cue-list">
      {cues.map(({ at, words, by, followed }, i) => (
        <li key={i}>
          <span class="soft">{at}</span> <strong>{words}</strong> {[by, followed].filter(Boolean).join('; ')}
        </li>
      ))}
    </ol>
  );
}
