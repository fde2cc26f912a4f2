/** `ebbline graph`: one kept feed as SVG or PNG. */
import { writeFileSync } from 'node:fs';
import { PlainError } from '../errors.ts';
import { sessionGraphPng, sessionGraphSvg } from '../review/index.ts';
import { dataFolder } from '../store/data-folder.ts';
import { openStore } from '../store/feed-store.ts';

export interface GraphCommandOptions {
  simulated?: boolean;
  out?: string;
}

/** @throws PlainError when there is no such feed, or the file cannot be written */
export async function graphCommand(feedId: string | undefined, options: GraphCommandOptions): Promise<void> {
  const { out } = options;
  if (out !== undefined && !/\.(svg|png)$/.test(out)) {
    throw new PlainError(
      'graph-ending',
      `The file ${out} must end in .svg or .png.`,
      'Choose one of the two.',
    );
  }
  const store = openStore(dataFolder({ simulated: options.simulated ?? false }));
  try {
    const id = feedId ?? store.list()[0]?.id;
    const feed = id === undefined ? null : store.get(id);
    if (!feed) {
      throw new PlainError(
        'feed-unknown',
        id === undefined ? 'No feeds are kept.' : `There is no kept feed ${id}.`,
        'List them with "ebbline feeds"; those of the simulated sleeve need --simulated.',
      );
    }
    if (out === undefined) process.stdout.write(`${sessionGraphSvg(feed)}\n`);
    else write(out, out.endsWith('.png') ? sessionGraphPng(feed) : sessionGraphSvg(feed));
  } finally {
    store.close();
  }
}

function write(path: string, content: string | Uint8Array): void {
  try {
    writeFileSync(path, content);
    process.stdout.write(`${path}\n`);
  } catch (cause) {
    const reason = (cause as NodeJS.ErrnoException).code ?? String(cause);
    throw new PlainError(
      'graph-unwritable',
      `The file ${path} cannot be written (${reason}).`,
      'Choose another place.',
      {
        cause,
      },
    );
  }
}
