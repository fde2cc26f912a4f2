/** What the bench of the estimator prints. */
import { type Cell, fixed, percent, printTable, quantile } from '../table.ts';
import { type CaseResult, RIVALS, type Rival } from './run-case.ts';
import { type OwnScore, rmsOf, type Score } from './score.ts';
import { type GroupName, OVERALL, TARGETS } from './targets.ts';

const RIVAL_HEADINGS: Record<Rival, string> = {
  constant: 'best constant',
  sucks: 'sucks × best',
  tip: 'tip moment, 10 s',
  scale: 'plain scale',
  slope: 'S–G slope',
  kalman: 'general Kalman',
  fourStates: 'four states',
};

const yes = (reached: boolean | null): string => (reached === null ? '–' : reached ? 'yes' : 'NO');

const groupsOf = (results: readonly CaseResult[]): GroupName[] => [
  ...new Set(results.map(({ group }) => group)),
];

/** One quantity of one group, by every way. */
function mainRow(
  group: string,
  what: string,
  results: readonly CaseResult[],
  of: (score: Score) => number | null,
  target: number | null,
): Cell[] {
  const own = rmsOf(results.map(({ own }) => of(own)));
  const perfect = results.every((result) => result.perfect !== null)
    ? rmsOf(results.map((result) => of(result.perfect!)))
    : null;
  return [
    group,
    what,
    results.length,
    fixed(own),
    target === null ? '–' : `≤ ${target}`,
    yes(target === null || own === null ? null : own <= target),
    ...RIVALS.map((rival) => fixed(rmsOf(results.map(({ rivals }) => of(rivals[rival]))))),
    fixed(perfect),
  ];
}

export function mainTable(results: readonly CaseResult[]): void {
  const rows: Cell[][] = [];
  for (const group of groupsOf(results)) {
    const target = TARGETS[group];
    const members = results.filter((result) => result.group === group);
    const slow = members.filter(({ fast }) => !fast);
    const fast = members.filter((result) => result.fast);
    const add = (what: string, of: CaseResult[], pick: (s: Score) => number | null, limit: number | null) => {
      if (of.length > 0) rows.push(mainRow(group, what, of, pick, limit));
    };
    add('live flow, paced or let-down', slow, ({ live }) => live, target.livePaced);
    add('live flow, fast', fast, ({ live }) => live, target.liveFast);
    add('refined flow, paced or let-down', slow, ({ refined }) => refined, target.refinedPaced);
    add('refined flow, fast', fast, ({ refined }) => refined, target.refinedFast);
    add('milk', members, ({ milkMl }) => milkMl, target.milkMl);
    const limit = intakeLimit(members, group);
    add('intake at teat-outs', members, ({ intakeErrorsMl }) => rmsOf(intakeErrorsMl), limit);
  }
  printTable(
    'Root mean square errors in simulation, mL/min and mL, from first latch to end; rms over feeds',
    [
      'group',
      'what',
      'feeds',
      'Ebbline',
      'target',
      'reached',
      ...RIVALS.map((rival) => RIVAL_HEADINGS[rival]),
      'perfect sleeve',
    ],
    rows,
    [
      'Best constant and best volume of a suck are fitted to each feed’s truth, so their intake at the only teat-out of a feed is right by construction.',
      'Live S–G: its slope of the ten seconds past. General Kalman: constant rate on the moment about the tip, at 4 Hz.',
      'Perfect sleeve: this estimator on the same feed with exact calibration, no noise and no drift. Everything known (sucks too) is not done.',
      'An unknown flow counts as zero. Unknown milk is left out; see "told" below.',
    ],
  );
}

/** The fixed limit, or the share of the intake where that allows more; as one rms over the teat-outs' limits. */
function intakeLimit(members: readonly CaseResult[], group: GroupName): number | null {
  const { intakeMl, intakeShare } = TARGETS[group];
  if (intakeMl === null || intakeShare === 0) return intakeMl;
  const limits = members.flatMap(({ own }) =>
    own.intakesMl.map((ml) => Math.max(intakeMl, intakeShare * ml)),
  );
  return Number(rmsOf(limits)!.toFixed(2));
}

const rowsByName = (results: readonly CaseResult[]): [string, CaseResult[]][] => {
  const byName = new Map<string, CaseResult[]>();
  for (const result of results) {
    const key = `${result.group}|${result.name}`;
    byName.set(key, [...(byName.get(key) ?? []), result]);
  }
  return [...byName.values()].map((members) => [members[0]!.name, members]);
};

const worst = (values: readonly number[]): number => Math.max(...values.map(Math.abs));
const delay = (values: readonly number[]): string => {
  const late = quantile(values, 0.95);
  return late > 100 ? 'never' : fixed(late);
};
const suckError = ({ sucks }: OwnScore): number => (sucks.told - sucks.true) / sucks.true;
const signedPercent = (share: number): string =>
  `${share >= 0 ? '+' : '−'}${Math.abs(100 * share).toFixed(0)} %`;

export function caseTable(results: readonly CaseResult[]): void {
  const rows = rowsByName(results).map(([name, members]): Cell[] => {
    const own = members.map((member) => member.own);
    const errors = own.flatMap(({ intakeErrorsMl }) => intakeErrorsMl);
    const poor = own.map(({ said }) => 1 - (said.get('good') ?? 0));
    return [
      name,
      members.length,
      fixed(rmsOf(members.map(({ meanMlPerMin }) => meanMlPerMin)), 1),
      fixed(rmsOf(own.map(({ live }) => live))),
      fixed(rmsOf(members.map(({ own, rivals }) => own.live! / rivals.constant.live!))),
      fixed(rmsOf(own.map(({ refined }) => refined))),
      fixed(rmsOf(own.map(({ milkMl }) => milkMl))),
      fixed(rmsOf(errors)),
      fixed(worst(errors)),
      fixed(rmsOf(own.map(({ refinedIntakeErrorMl }) => refinedIntakeErrorMl))),
      percent(Math.min(...own.map(({ teatRight }) => teatRight))),
      delay(own.flatMap(({ latchDelaysSec }) => latchDelaysSec)),
      delay(own.flatMap(({ releaseDelaysSec }) => releaseDelaysSec)),
      own.map(({ turns }) => `${turns.told}/${turns.true}`).join(' '),
      own.map((one) => signedPercent(suckError(one))).join(' '),
      percent(Math.min(...own.map(({ toldShare }) => toldShare)), 0),
      percent(poor.reduce((sum, share) => sum + share, 0) / poor.length, 0),
      fixed(rmsOf(own.map(({ liveWhen }) => liveWhen.good))),
      fixed(rmsOf(own.map(({ liveWhen }) => liveWhen.poor))),
    ];
  });
  printTable(
    'Feed by feed (rms over its seeds)',
    [
      'feed',
      'seeds',
      'mean flow',
      'live',
      '÷ constant',
      'refined',
      'milk',
      'intake',
      'worst',
      'whole, refined',
      'teat right',
      'in 95 %, s',
      'out 95 %, s',
      'turns told/true',
      'sucks',
      'told',
      'said poor',
      'live when good',
      'when poor',
    ],
    rows,
  );
}

export function overallTable(results: readonly CaseResult[]): void {
  const rows: Cell[][] = [];
  const row = (what: string, measured: string, target: string, reached: boolean | null): void => {
    rows.push([what, measured, target, yes(reached)]);
  };
  const well = results.filter(({ group }) => group === 'well-behaved' || group === 'captures');
  const slow = well.filter(({ fast }) => !fast);
  const halved = slow.filter(
    ({ own, rivals }) => own.live! <= OVERALL.shareOfConstant * rivals.constant.live!,
  );
  row(
    'well-behaved paced or let-down feeds with live flow at most half of the best constant’s error',
    `${halved.length} of ${slow.length}`,
    'all',
    halved.length === slow.length,
  );
  const burps = well.flatMap(({ own }) => own.burpFlows);
  const low = burps.filter((flow) => flow < OVERALL.burpFlowMlPerMin);
  row(
    'well-behaved: flow 12 s after a teat-out in a burp pause, mL/min, greatest (burp pauses)',
    `${fixed(Math.max(...burps))} (${low.length} of ${burps.length} below)`,
    '< 1 each',
    low.length === burps.length,
  );
  for (const group of groupsOf(results)) {
    const own = results.filter((result) => result.group === group).map((result) => result.own);
    const right = own.reduce((sum, { teatRight }) => sum + teatRight, 0) / own.length;
    const worstRight = Math.min(...own.map(({ teatRight }) => teatRight));
    row(
      `${group}: teat in or out told right, of samples (worst feed)`,
      `${percent(right)} (${percent(worstRight)})`,
      '≥ 98 %',
      right >= OVERALL.teatRight,
    );
    const latch = quantile(
      own.flatMap(({ latchDelaysSec }) => latchDelaysSec),
      0.95,
    );
    const release = quantile(
      own.flatMap(({ releaseDelaysSec }) => releaseDelaysSec),
      0.95,
    );
    row(`${group}: teat in told after, 95 %, s`, fixed(latch), '≤ 0.6', latch <= OVERALL.latchSec);
    row(`${group}: teat out told after, 95 %, s`, fixed(release), '≤ 1.6', release <= OVERALL.releaseSec);
    const target = TARGETS[group].sucks;
    const sucks = own.map(suckError).map(Math.abs);
    const told = own.reduce((sum, one) => sum + one.sucks.told, 0);
    const really = own.reduce((sum, one) => sum + one.sucks.true, 0);
    row(
      `${group}: suck count off in the worst feed (in all together)`,
      `${percent(Math.max(...sucks))} (${signedPercent(told / really - 1)})`,
      target === null ? '–' : `≤ ${percent(target, 0)}`,
      target === null ? null : Math.max(...sucks) <= target,
    );
    changeRow(group, own, row);
  }
  printTable('Beside the errors, in simulation', ['what', 'measured', 'target', 'reached'], rows);
}

function changeRow(
  group: string,
  own: readonly OwnScore[],
  row: (what: string, measured: string, target: string, reached: boolean | null) => void,
): void {
  const live = own.map(({ changes }) => Math.max(Math.abs(changes.spiltMl), Math.abs(changes.addedMl)));
  const refined = own.map(({ changes }) =>
    Math.max(Math.abs(changes.refinedSpiltMl), Math.abs(changes.refinedAddedMl)),
  );
  const real = own.map(({ changes }, i) => (changes.any ? i : -1)).filter((i) => i >= 0);
  if (real.length > 0) {
    const ofReal = (errors: number[]): number => Math.max(...real.map((i) => errors[i]!));
    row(
      `${group}: volume spilt or poured in, greatest error, mL: live; refined (${real.length} feeds)`,
      `${fixed(ofReal(live))}; ${fixed(ofReal(refined))}`,
      '≤ 1',
      ofReal(live) <= OVERALL.changeMl && ofReal(refined) <= OVERALL.changeMl,
    );
  }
  const wrong = own.filter(({ changes }, i) => !changes.any && (live[i]! > 0 || refined[i]! > 0)).length;
  row(
    `${group}: feeds without a spill or refill in which one was told`,
    `${wrong} of ${own.length - real.length}`,
    '0',
    wrong === 0,
  );
}

/** What the sensor said of itself, by group: share of the time from first latch to end. */
export function saidTable(results: readonly CaseResult[]): void {
  const rows: Cell[][] = [];
  for (const [name, members] of rowsByName(results)) {
    const states = new Set(members.flatMap(({ own }) => [...own.said.keys()]));
    const poor = [...states].filter((state) => state !== 'good').sort();
    if (poor.length === 0) continue;
    const share = (state: string): number =>
      members.reduce((sum, { own }) => sum + (own.said.get(state) ?? 0), 0) / members.length;
    rows.push([
      name,
      percent(share('good'), 0),
      poor.map((state) => `${state} ${percent(share(state))}`).join(', '),
    ]);
  }
  printTable(
    'What it said of itself, share of the time (feeds not listed: good throughout)',
    ['feed', 'good', 'else'],
    rows,
  );
}

/** How often the truth lay within the stated standard deviation. */
export function coverTable(results: readonly CaseResult[]): void {
  const rows = groupsOf(results).map((group): Cell[] => {
    const within = results.filter((result) => result.group === group).map(({ own }) => own.within);
    const mean = (key: keyof OwnScore['within']): string =>
      percent(within.reduce((sum, one) => sum + one[key], 0) / within.length, 0);
    return [group, mean('flow1'), mean('flow2'), mean('milk1'), mean('milk2')];
  });
  printTable(
    'Truth within the stated standard deviation (68 % and 95 % if it were exact and normal)',
    ['group', 'flow, 1 sd', 'flow, 2 sd', 'milk, 1 sd', 'milk, 2 sd'],
    rows,
  );
}
