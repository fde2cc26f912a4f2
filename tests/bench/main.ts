/**
 * `npm run bench -- [section …] [--quick]`: measures, each figure beside a baseline of the same run. Seeds are fixed; times depend on the machine.
 * Without a name all sections run. Nothing here is a test: limits are only said.
 */
import { existsSync } from 'node:fs';
import { availableParallelism, cpus, loadavg, totalmem } from 'node:os';
import { fileURLToPath } from 'node:url';

type Section = (flags: ReadonlySet<string>) => unknown;

const here = (name: string): string => fileURLToPath(new URL(name, import.meta.url));

/** A section in a file of its own, loaded only when asked for. */
const from =
  (file: string, name: string) =>
  async (flags: ReadonlySet<string>): Promise<void> => {
    if (!existsSync(here(file))) return console.log(`\nNot here: tests/bench/${file}`);
    const module = (await import(here(file))) as Record<string, Section>;
    await module[name]!(flags);
  };

const SECTIONS: Record<string, Section> = {
  accuracy: from('accuracy.ts', 'benchAccuracy'),
  estimator: from('estimator/estimator.ts', 'benchEstimator'),
  limits: from('estimator/limits.ts', 'benchLimits'),
  ablation: from('estimator/ablation.ts', 'benchAblation'),
  hardships: from('hardships.ts', 'benchHardships'),
  'first-cue': from('first-cue.ts', 'benchFirstCue'),
  'earlier-feeds': from('earlier-feeds.ts', 'benchEarlierFeeds'),
  mistaken: from('mistaken.ts', 'benchMistaken'),
  fourth: from('fourth-measurement.ts', 'benchFourthMeasurement'),
  calibration: from('calibration.ts', 'benchCalibration'),
  speed: from('speed.ts', 'benchSpeed'),
  latency: from('latency.ts', 'benchLatency'),
  relay: from('relay.ts', 'benchRelay'),
  sharing: from('sharing.ts', 'benchSharing'),
  ward: from('ward.ts', 'benchWard'),
  'ward-kills': from('ward-kills.ts', 'benchWardKills'),
  takeovers: from('takeovers.ts', 'benchTakeovers'),
  pacing: from('pacing.ts', 'benchPacing'),
  pictures: from('pictures.ts', 'drawPictures'),
  planning: from('planning.ts', 'benchPlanning'),
  store: from('store.ts', 'benchStore'),
  database: from('database.ts', 'benchDatabase'),
  campaign: from('campaign.ts', 'benchCampaign'),
  stall: from('stall.ts', 'benchStall'),
  soak: from('soak.ts', 'benchSoak'),
  kills: from('kills.ts', 'benchKills'),
  review: from('review.ts', 'benchReview'),
  page: from('page.ts', 'benchPage'),
  board: from('board.ts', 'benchBoard'),
  firmware: from('firmware-table.ts', 'benchFirmwareTable'),
  indices: from('indices.ts', 'benchIndices'),
  study: from('study.ts', 'benchStudy'),
  nipple: from('nipple.ts', 'benchNipple'),
  alone: from('alone.ts', 'benchAlone'),
  'half-day': from('half-day.ts', 'benchHalfDay'),
};

function header(): void {
  const [first] = cpus();
  console.log(
    `Ebbline bench · Node ${process.version} · ${availableParallelism()} cores · ${first?.model.trim() ?? 'unknown processor'}`,
  );
  console.log(
    `${(totalmem() / 2 ** 30).toFixed(1)} GiB · load before ${loadavg()[0]!.toFixed(1)} (above ${availableParallelism()} the times say little)`,
  );
}

async function main(words: string[]): Promise<void> {
  const names = words.filter((word) => !word.startsWith('--'));
  const flags = new Set(words.filter((word) => word.startsWith('--')).map((word) => word.slice(2)));
  // Without the `--` before it npm keeps the word for itself.
  if (process.env.npm_config_quick) flags.add('quick');
  const unknown = names.filter((name) => !(name in SECTIONS));
  if (unknown.length > 0) {
    console.error(
      `bench: there is no section ${unknown.join(', ')}. Sections: ${Object.keys(SECTIONS).join(', ')}.`,
    );
    process.exitCode = 2;
    return;
  }
  header();
  for (const name of names.length > 0 ? names : Object.keys(SECTIONS)) {
    const startedMs = performance.now();
    console.log(`\n== ${name}`);
    await SECTIONS[name]!(flags);
    console.log(`  (${((performance.now() - startedMs) / 1000).toFixed(0)} s)`);
  }
}

await main(process.argv.slice(2));
