/** How soon a cue is on the line. */
import { noPseudoTerminal } from '../support/pseudo-terminal.ts';
import { cueLatencies, prepareFeeds } from './cue-latency.ts';
import { type Cell, fixed, printTable, quantile } from './table.ts';

const ROUNDS = 200;
const FEEDS = 10;
const ECHOES = 800;
const GOAL_MS = 20;

export async function benchLatency(): Promise<void> {
  if (noPseudoTerminal !== null) return console.log(`\nNo latency: ${noPseudoTerminal}.`);
  const { lightMs, soundMs, echoMs, early, missing } = await cueLatencies({
    feeds: prepareFeeds(FEEDS),
    rounds: ROUNDS,
    echoes: ECHOES,
    onRound(done) {
      if (done % 50 === 0) console.error(`  ${done} of ${ROUNDS} rounds`);
    },
  });
  const row = (name: string, values: number[]): Cell[] => [
    name,
    values.length,
    ...[0.5, 0.9, 0.99, 1].map((share) => fixed(quantile(values, share))),
  ];
  const ratio = [0.5, 0.9, 0.99, 1].map((share) =>
    fixed(quantile(lightMs, share) / quantile(echoMs, share), 1),
  );
  printTable(
    'From the sample that makes the rule true to the bytes on the line, ms',
    ['what', 'times', 'p50', 'p90', 'p99', 'max'],
    [
      row('light: all three colors written', lightMs),
      row('sound: notes written', soundMs),
      row('answer to each sample, nothing else done', echoMs),
      ['light ÷ answer', '', ...ratio],
    ],
    [
      `Real clock, pseudo-terminal, ${FEEDS} simulated feeds in ${ROUNDS} rounds, store on disk. Goal: p99 under ${GOAL_MS} ms: ${
        Math.max(quantile(lightMs, 0.99), quantile(soundMs, 0.99)) < GOAL_MS ? 'reached' : 'NOT reached'
      }.`,
      `Too early: ${early}. Not at all: ${missing}.`,
    ],
  );
}
