/** Chooses the kind of sleeve from the options: simulated, on a port, or behind a broker; refuses options that exclude each other. */
import { PlainError } from '../../base/errors.ts';
import { type BrokerChoice, brokerAndPlace } from '../relay/broker-choice.ts';
import type { KnownCalibrations } from './sleeve-calibration.ts';
import {
  brokerSleeve,
  type ReadySleeve,
  type SleeveChoice,
  serialSleeve,
  softwareSleeve,
} from './sleeves.ts';

export const isSimulated = ({ port, broker }: SleeveChoice): boolean =>
  port === undefined && broker === undefined;

const isBehindBroker = (choice: SleeveChoice): choice is SleeveChoice & BrokerChoice =>
  choice.broker !== undefined;

/** Call it first. @throws PlainError  options that exclude each other, a bad address or name */
export function checkSleeveChoice(choice: SleeveChoice): void {
  const { port, broker, site, room, sleeveNumber } = choice;
  const isPart = site !== undefined || room !== undefined || sleeveNumber !== undefined;
  if (port !== undefined && broker !== undefined)
    throw new PlainError('two-sleeves', 'Both --port and --broker were given.', 'Name one of the two.');
  if (broker === undefined && isPart)
    throw new PlainError(
      'broker-none',
      '--site, --room and --sleeve-number belong to a sleeve behind a broker, but no --broker was given.',
      'Name it with --broker mqtts://HOST.',
    );
  if (isSimulated(choice)) refuseUnusedCalibration(choice);
  if (!isBehindBroker(choice)) return;
  brokerAndPlace(choice);
  if (sleeveNumber === undefined)
    throw new PlainError(
      'sleeve-number-needed',
      'With --broker, --sleeve-number is needed too: a room may have many sleeves.',
      'Name the one to watch, as its relay tells it.',
    );
}

/** A calibration is only for a real sleeve, so starting a simulated one instead would mislead. */
function refuseUnusedCalibration({ calibration, replaceCalibration }: SleeveChoice): void {
  if (calibration === undefined && !replaceCalibration) return;
  throw new PlainError(
    'calibration-without-port',
    'A calibration was given, but no --port: the simulated sleeve brings its own.',
    'Name the port of your sleeve with --port, or leave the calibration out.',
  );
}

/** Opens the sleeve. @throws PlainError  as each kind of sleeve */
export function chosenSleeve(choice: SleeveChoice, calibrations: KnownCalibrations): Promise<ReadySleeve> {
  if (isBehindBroker(choice)) return brokerSleeve(choice, choice.sleeveNumber as number, calibrations);
  const { port } = choice;
  return port === undefined ? softwareSleeve(choice) : serialSleeve(port, choice, calibrations);
}
