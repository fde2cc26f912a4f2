/**
 * The complete state of an engine as data, so that another process can continue the same feed. It is valid only for the same version of the program;
 * another version starts from the feed's bytes.
 */
import type { Calibration, Sensor } from '../sensing/index.ts';
import { createEngine, type Engine } from './engine.ts';

/** The bottle is left out, since it follows from the calibration. */
export type EngineSnapshot = Omit<Engine, 'sink' | 'onTick' | 'cover' | 'sensor'> & {
  sensor: Omit<Sensor, 'bottle'>;
  looksAtHole: boolean;
};

/** The parts are not copied: serialize them before the engine runs on. */
export function snapshotOf(engine: Engine): EngineSnapshot {
  const { sink: _sink, onTick: _onTick, cover, sensor, ...rest } = engine;
  const { bottle: _bottle, ...sensed } = sensor;
  return { ...rest, sensor: sensed, looksAtHole: cover !== null };
}

/**
 * @param calibration  the one that the engine was made with
 * @param snapshot  is used by the engine and must not be used elsewhere
 */
export function engineFrom(calibration: Calibration, snapshot: EngineSnapshot): Engine {
  const { sensor, looksAtHole, ...rest } = snapshot;
  const engine = createEngine({ calibration, portionMl: null, refinable: false });
  Object.assign(engine.sensor, sensor);
  return Object.assign(engine, rest, { cover: looksAtHole ? engine.sensor.bottle.cover : null });
}
