/** `ebbline board`: the board of a room until Ctrl-C. Thin: the work is in `app/ward`. */
import { demoSource, RoomBoard } from '../../app/ward/room-board.ts';
import { webFolder } from '../../app/web-folder.ts';
import { PlainError } from '../../base/errors.ts';
import { createBoardServer } from '../../server/ward/board-server.ts';
import { say } from '../print-out.ts';
import { stopSignals } from '../stop-signals.ts';

export interface BoardOptions {
  demo?: boolean;
  cots: number;
  pagePort: number;
}

const DEMO = { site: 'demo', room: 'Demo', seed: 1 } as const;

export async function boardCommand(options: BoardOptions): Promise<void> {
  if (!options.demo)
    throw new PlainError(
      'board-what',
      'A board needs to know what to show.',
      'To try it with invented cots: ebbline board --demo.',
    );
  const board = new RoomBoard(demoSource({ seed: DEMO.seed, cots: options.cots }), {
    ...DEMO,
    isDemo: true,
    cotOf: (sleeve) => String(sleeve),
  });
  const server = await createBoardServer({
    view$: board.view$,
    webFolder: webFolder(),
    port: options.pagePort,
  });
  const stop = stopSignals();
  say([
    'The board shows invented cots; nothing here is a baby.',
    `Page for the tablet:     ${server.url}`,
    'Not a medical device or an alarm. Watch the babies, not the board. Stop with Ctrl-C.',
  ]);
  await stop.first;
  await server.close();
  await board.close();
  stop.letGo();
  process.exit(0);
}
