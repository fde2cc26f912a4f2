/** `npm run bench campaign`: faults by the hundred against the whole host program, and what came of each. */

import { playWorld } from '../support/world.ts';
import { TURNS, type Turn, type WorldResult } from '../support/world-turns.ts';
import { benchStall } from './stall.ts';
import { type Cell, printTable } from './table.ts';

/** With this many worlds at least 500 cables are pulled, 200 chips reset, 100 disks filled and 50 clocks set while a feed runs. */
const WORLDS = 200;
const QUICK_WORLDS = 20;
const VIRTUAL_SEC = 180;

const WHAT: Record<Turn, string> = {
  kill: 'kills of the program, at any moment',
  stop: 'stops and starts',
  cable: 'cables out or in',
  silence: 'sleeves that fall silent, or speak again',
  'lost-bytes': 'lines that begin or cease to lose bytes',
  reset: 'resets of the chip',
  'full-disk': 'disks full for 1 to 10 s, with room for some bytes more',
  disk: 'disks that begin or cease to refuse (11 errors, any call)',
  'late-write': 'writes kept though they report an error',
  clock: 'clocks set by a second to a year',
  busy: 'hosts busy elsewhere for 1.5 to 3.5 s',
  mouth: 'nipples in or out',
  order: 'orders from the page',
};

export async function benchCampaign(flags: ReadonlySet<string>): Promise<void> {
  const worlds = flags.has('quick') ? QUICK_WORLDS : WORLDS;
  const results: WorldResult[] = [];
  for (let seed = 1; seed <= worlds; seed++) results.push(await playWorld(seed, VIRTUAL_SEC));
  const sum = (of: (one: WorldResult) => number): number => results.reduce((all, one) => all + of(one), 0);
  const broken = results.filter((one) => one.broken.length > 0);
  const title = `Campaign: ${worlds} worlds from seeds, ${(sum(({ virtualSec }) => virtualSec) / 3600).toFixed(1)} h of virtual time, ${sum(({ feeds }) => feeds)} feeds`;
  printTable(
    title,
    ['fault', 'how often', 'of them in a feed', 'worlds in which something did not hold'],
    [...new Set(TURNS)].map((turn): Cell[] => [
      WHAT[turn],
      String(sum(({ turns }) => turns[turn] ?? 0)),
      String(sum(({ inFeed }) => inFeed[turn] ?? 0)),
      String(broken.filter(({ turns }) => turns[turn]).length),
    ]),
  );
  console.log(
    `Cables pulled: ${sum(({ unplugs }) => unplugs)}. Calls of disk and database that failed: ${sum(({ failures }) => failures)}. Held at each moment: every byte heard is kept or its loss is told (a kill: all but a second), no cue from data older than a second, no feed twice, gone or ending before its start, no sentence that is false.`,
  );
  for (const { seed, broken: what } of broken) console.log(`  seed ${seed}: ${what.join('; ')}`);
  await benchStall(flags);
}
