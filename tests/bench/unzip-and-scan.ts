/** Baseline process: unzips a capture and finds its samples, no more. */
import { readCapture } from '../../firmware-bridge/links/capture-file.ts';
import { createScanner, scan } from '../../firmware-bridge/wire/index.ts';

let count = 0;
const sink = {
  sample: () => {
    count += 1;
  },
};
scan(createScanner(), readCapture(process.argv[2]!).bytes, sink);
process.stdout.write(`${count}\n`);
