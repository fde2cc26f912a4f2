/**
 * All that an engine knows, as data: what another process needs to go on with the same feed as if nothing had happened. Only for the same version of
 * the program; another one starts from the feed's bytes.
 */
import type { Calibration, Sensor } from '../sensing/index.ts';
import { createEngine, type Engine } from './engine.ts';

/** The bottle follows from the calibration. */
export type EngineSnapshot = Omit<Engine, 'sink' | 'onTick' | 'cover' | 'sensor'> & {
  sensor: Omit<Sensor, 'bottle'>;
  looksAtHole: boolean;
};

/** Its parts are the engine's own: copy or serialize them before the engine goes on. */
export function snapshotOf(engine: Engine): EngineSnapshot {
  const { sink: _sink, onTick: _onTick, cover, sensor, ...rest } = engine;
  const { bottle: _bottle, ...sensed } = sensor;
  return { ...rest, sensor: sensed, looksAtHole: cover !== null };
}

/**
 * @param calibration  the one that the engine was made with
 * @param snapshot  becomes the engine's own
 */
export function engineFrom(calibration: Calibration, snapshot: EngineSnapshot): Engine {
  const { sensor, looksAtHole, ...rest } = snapshot;
  const engine = createEngine({ calibration, portionMl: null, refinable: false });
  Object.assign(engine.sensor, sensor);
  return Object.assign(engine, rest, { cover: looksAtHole ? engine.sensor.bottle.cover : null });
}
