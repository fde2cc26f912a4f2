/** Baseline process: the simulated sleeve on its link at 1×, scanned; no sensing, no store, no page. Runs until it is stopped. */
import { createSimulatedLink } from '../../firmware-bridge/links/simulated-link.ts';
import { createScanner, scan } from '../../firmware-bridge/wire/index.ts';
import { DEFAULT_SCENARIO } from '../../src/simulation/scenarios.ts';
import { SimulatedSleeve } from '../../src/simulation/sleeve-model.ts';

const link = createSimulatedLink(new SimulatedSleeve({ feed: { scenario: DEFAULT_SCENARIO, seed: 1 } }), {});
const scanner = createScanner();
const sink = { sample: () => {} };
link.bytes$.subscribe((bytes) => scan(scanner, bytes, sink));
process.stdout.write('running\n');
await link.open();
