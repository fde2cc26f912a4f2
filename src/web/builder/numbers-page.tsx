/** Raw live estimates, on a page of its own so that they do not distract a caregiver. */

import { becauseText } from '../../pacing/cues/words-because.ts';
import type { Guard } from '../live/guard.ts';
import { useChoices } from '../parts/choices.tsx';
import { ReadingPage } from '../parts/reading-page.tsx';
import { sleeveName } from '../parts/sleeve-name.ts';

export function NumbersPage({ guard }: { guard: Guard }) {
  const { texts, language } = useChoices();
  const { builder } = texts;
  const { shown } = guard;
  const view = guard.fresh ? guard.view : null;
  const figure = (value: number | null | undefined, unit: string, digits = 1) =>
    value === null || value === undefined ? builder.unknown : `${value.toFixed(digits)} ${unit}`;
  const numbers = view?.numbers;
  const rows: [string, string][] = [
    [builder.rows.showing, shown?.showing ?? builder.unknown],
    [builder.rows.because, shown?.because ? becauseText(shown.because, language) : '–'],
    [builder.rows.quality, shown?.qualityReason ?? '–'],
    [builder.rows.link, view ? sleeveName(view.linkLabel, language) : builder.unknown],
    [builder.rows.milk, figure(numbers?.milkMl, 'mL')],
    [builder.rows.flow, figure(numbers?.flowMlPerMin, 'mL/min')],
    [builder.rows.intake, figure(numbers?.intakeMl, 'mL')],
    [builder.rows.tilt, figure(numbers?.tiltDeg, '°', 0)],
    [builder.rows.ahead, figure(view?.aheadOfPace, '', 2)],
    [builder.rows.teat, view ? (view.teatInMouth ? builder.teatIn : builder.teatOut) : builder.unknown],
    [builder.rows.elapsed, figure(view?.feedElapsedSec, 's', 0)],
    [builder.rows.battery, figure(view?.batteryPercent, '%', 0)],
    [
      builder.rows.samples,
      numbers ? builder.samples(numbers.accepted, numbers.rejected, numbers.missing) : builder.unknown,
    ],
  ];
  return (
    <ReadingPage title={builder.title} page="numbers" guard={guard}>
      <p class="soft">{builder.intro}</p>
      <dl class="numbers">
        {rows.map(([name, value]) => (
          <div key={name}>
            <dt>{name}</dt>
            <dd>{value}</dd>
          </div>
        ))}
      </dl>
    </ReadingPage>
  );
}
