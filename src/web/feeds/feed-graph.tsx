/** The graph of a feed, drawn by the server as SVG; touching or pointing at it shows the values there. */
import { useEffect, useRef, useState } from 'preact/hooks';
import type { FeedValues } from '../../review/facts/values.ts';
import { useAnswer, useJson } from '../parts/ask.ts';
import { useChoices } from '../parts/choices.tsx';
import { setIn } from './drawing.ts';
import { type AxisPlace, clockAt, placeOf, pointText, secondAt } from './point.ts';
import { FEEDS_WORDS } from './words.ts';

/** Margin of the page, as in its styles; the graph is no wider than the text. */
const EDGE_PX = 16;
const WIDEST_PX = 728;

const asText = (response: Response): Promise<string> => response.text();

export const graphAddress = (
  id: string,
  kind: 'svg' | 'png',
  language: string,
  unit: string,
  widthPx: number,
): string =>
  `/feeds/${encodeURIComponent(id)}/graph.${kind}?language=${language}&unit=${unit}&width=${widthPx}`;

export const pageGraphWidth = (): number =>
  Math.min(WIDEST_PX, document.documentElement.clientWidth - 2 * EDGE_PX);

/** A drawing fetched from an address. @param onAxis called with the place of its time axis once it is loaded */
export function Drawing({ address, onAxis }: { address: string; onAxis?: (axis: AxisPlace | null) => void }) {
  const { texts } = useChoices();
  const place = useRef<HTMLDivElement>(null);
  const answer = useAnswer<string>(address, asText);
  useEffect(() => {
    if (answer.state !== 'here' || !place.current) return;
    const axis = setIn(place.current, answer.answer);
    onAxis?.(axis);
  }, [answer]);
  return (
    <>
      {answer.state === 'refused' && <p>{texts.feed.graphMissing}</p>}
      <div ref={place} />
    </>
  );
}

/** A drawing contained in an answer. */
export function Picture({ svg }: { svg: string }) {
  const place = useRef<HTMLDivElement>(null);
  useEffect(() => {
    if (place.current) setIn(place.current, svg);
  }, [svg]);
  return (
    <figure class="graph">
      <div ref={place} />
    </figure>
  );
}

export function FeedGraph({ id }: { id: string }) {
  const { unit, language } = useChoices();
  const [widthPx] = useState(pageGraphWidth);
  const [axis, setAxis] = useState<AxisPlace | null>(null);
  const [sec, setSec] = useState<number | null>(null);
  const values = useJson<FeedValues>(`/feeds/${encodeURIComponent(id)}/values`);
  const seconds = values.state === 'here' ? values.answer.intakeMl.length - 1 : 0;
  const point = ({ currentTarget, clientX }: PointerEvent) => {
    const box = (currentTarget as HTMLElement).getBoundingClientRect();
    if (axis && seconds > 0) setSec(secondAt(clientX - box.left, drawnWidth(box, axis), axis, seconds));
  };
  return (
    <figure class="graph">
      <div class="pointed" onPointerMove={point} onPointerDown={point}>
        <Drawing
          address={`${graphAddress(id, 'svg', language, unit, widthPx)}&place=page`}
          onAxis={setAxis}
        />
        {axis && sec !== null && <Hair axis={axis} sec={sec} />}
      </div>
      {values.state === 'here' && seconds > 0 && (
        <Reading values={values.answer} sec={sec} seconds={seconds} onSec={setSec} />
      )}
    </figure>
  );
}

/** The drawing is never enlarged beyond its own width. */
const drawnWidth = ({ width }: DOMRect, axis: AxisPlace): number => Math.min(width, axis.widthPx);

/** A thin vertical line at the finger. */
function Hair({ axis, sec }: { axis: AxisPlace; sec: number }) {
  const line = useRef<HTMLDivElement>(null);
  useEffect(() => {
    const { current } = line;
    if (!current?.parentElement) return;
    const shown = drawnWidth(current.parentElement.getBoundingClientRect(), axis);
    // Set through the style API, since the page's content policy forbids styles in markup.
    current.style.left = `${placeOf(sec, shown, axis)}px`;
  }, [axis, sec]);
  return <div class="hair" ref={line} aria-hidden="true" />;
}

interface ReadingProps {
  values: FeedValues;
  sec: number | null;
  seconds: number;
  onSec: (sec: number) => void;
}

/** A slider for keyboard and finger; screen readers read its value. */
function Reading({ values, sec, seconds, onSec }: ReadingProps) {
  const { language, volume } = useChoices();
  const words = FEEDS_WORDS[language].values;
  const said = sec === null ? words.hint : pointText(values, sec, words, volume);
  return (
    <figcaption class="reading-off">
      <label for="point">{words.label}</label>
      <input
        id="point"
        type="range"
        min={0}
        max={seconds}
        step={1}
        value={sec ?? 0}
        aria-valuetext={sec === null ? words.hint : `${clockAt(sec)}: ${said}`}
        onInput={({ currentTarget }) => onSec(Number(currentTarget.value))}
      />
      <output for="point" aria-live="off">
        {sec !== null && <strong>{clockAt(sec)}</strong>} {said}
      </output>
    </figcaption>
  );
}
