/** How a board is. */
import type { PlainError } from '../../base/errors.ts';
import { createMetrics, type HealthAnswer, type Metrics, serveHealth } from '../serve-health.ts';
import type { RoomBoard } from './room-board.ts';

export interface BoardParts {
  board: RoomBoard;
  brokerTrouble: () => string | null;
  storeTrouble: () => PlainError | null;
  certificate: () => { trouble: string | null; untilMs: number } | null;
  nowMs: () => number;
}

export const boardHealth =
  ({ board, brokerTrouble, storeTrouble, certificate }: BoardParts) =>
  (): HealthAnswer => ({
    // A board stands without its store; without the broker it shows nothing.
    isWell: brokerTrouble() === null,
    troubles: [brokerTrouble(), storeTrouble()?.text, certificate()?.trouble].flatMap((text) => text ?? []),
    ...board.counts(),
  });

function boardMetrics({ board, brokerTrouble, storeTrouble, certificate, nowMs }: BoardParts): Metrics {
  const metrics = createMetrics();
  const { gauge } = metrics;
  gauge('board_sleeves', 'Sleeves that this board hears of', () => board.counts().sleeves);
  gauge('board_feeds', 'Feeds that run on them', () => board.counts().feeds);
  gauge('broker_up', '1 while the broker is there', () => (brokerTrouble() === null ? 1 : 0));
  gauge('store_up', '1 while the store takes what comes', () => (storeTrouble() === null ? 1 : 0));
  if (certificate())
    gauge('certificate_left_seconds', 'How long the board’s certificate holds', () =>
      Math.max(0, ((certificate()?.untilMs ?? 0) - nowMs()) / 1000),
    );
  return metrics;
}

/** For this computer alone. @throws PlainError health-port */
export const serveBoardHealth = (parts: BoardParts, port: number) =>
  serveHealth({ health: boardHealth(parts), metrics: boardMetrics(parts) }, { address: '127.0.0.1', port });
