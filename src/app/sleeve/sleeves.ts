/** The sleeve that `ebbline start` talks to, opened, and the calibration that goes with it. */

import { firstValueFrom, type SchedulerLike } from 'rxjs';
import { hello } from '../../../firmware-bridge/links/hello.ts';
import { createIdentifiedLink } from '../../../firmware-bridge/links/identified-link.ts';
import type { SleeveLink } from '../../../firmware-bridge/links/link.ts';
import type { Identity } from '../../../firmware-bridge/wire/index.ts';
import { PlainError } from '../../base/errors.ts';
import { cueInLight } from '../../feed/live/light-language.ts';
import type { SleeveThere } from '../../feed/recording/other-sleeve.ts';
import { type Calibration, parseCalibration } from '../../sensing/index.ts';
import type { ScenarioName } from '../../simulation/scenarios.ts';
import { type BrokerChoice, brokerAndPlace, newId, type PlaceChoice } from '../relay/broker-choice.ts';
import { calibrationFrom } from './calibration-file.ts';
import { type CalibrationChoice, calibrationOf, type KnownCalibrations } from './sleeve-calibration.ts';

export interface SleeveChoice extends CalibrationChoice, Partial<BrokerChoice>, PlaceChoice {
  port?: string;
  /** With a broker: which of the room's sleeves. */
  sleeveNumber?: number;
  /** Without a port: a model of the sleeve, or its firmware on an emulated chip. */
  sleeve: 'simulated' | 'emulated';
  scenario?: string;
  seed: number;
  speed: number;
  ignoreCues?: boolean;
}

export interface ReadySleeve {
  link: SleeveLink;
  calibration: Calibration;
  sleeveId: string;
  /** Calls `take` when another sleeve is on the port, with its stored calibration, or null if there is none. Absent: the sleeve never changes. */
  onOther?: (take: (sleeve: SleeveThere | null) => void) => void;
}

/**
 * A sleeve without hardware, opened: the simulated one, or the firmware itself on an emulated chip, both in the hands of the
 * same simulated caregiver, who looks at the light that the sleeve shows.
 */
export async function softwareSleeve(choice: SleeveChoice): Promise<ReadySleeve> {
  const { createSimulatedLink } = await import('../../../firmware-bridge/links/simulated-link.ts');
  const model = await (choice.sleeve === 'emulated' ? emulated(choice) : simulated(choice));
  const link = createSimulatedLink(model.sleeve, { label: `${choice.sleeve} sleeve`, speed: choice.speed });
  await link.open();
  return {
    link,
    // It is created together with the sleeve, so it is never outdated.
    calibration: parseCalibration(
      { ...model.calibration, calibratedAt: new Date().toISOString() },
      'of the simulated sleeve',
    ),
    sleeveId: model.calibration.sleeveId,
  };
}

async function feedOptions(choice: SleeveChoice) {
  const { DEFAULT_SCENARIO, SCENARIO_NAMES } = await import('../../simulation/scenarios.ts');
  const scenario = (choice.scenario ?? DEFAULT_SCENARIO) as ScenarioName;
  if (!SCENARIO_NAMES.includes(scenario)) {
    throw new PlainError(
      'scenario-unknown',
      `There is no simulated feed named "${choice.scenario}".`,
      `Choose one of: ${SCENARIO_NAMES.join(', ')}.`,
    );
  }
  return { scenario, seed: choice.seed, follows: !choice.ignoreCues };
}

async function simulated(choice: SleeveChoice) {
  const { SimulatedSleeve } = await import('../../simulation/sleeve-model.ts');
  const sleeve = new SimulatedSleeve({
    feed: await feedOptions(choice),
    perceive: (light) => cueInLight(light),
    endsWithFeed: true,
  });
  return { sleeve, calibration: sleeve.feed.calibration };
}

async function emulated(choice: SleeveChoice) {
  const { EmulatedSleeve } = await import('../../../firmware-bridge/links/emulated-sleeve.ts');
  const { surroundingsOf } = await import('../../../firmware-bridge/links/emulated-surroundings.ts');
  const { createSimulatedFeed } = await import('../../simulation/simulated-feed.ts');
  const feed = createSimulatedFeed(await feedOptions(choice));
  const sleeve = new EmulatedSleeve({
    surroundings: surroundingsOf(feed),
    onLook: ({ light }) => feed.perceive(cueInLight(light)),
    isOver: () => feed.done,
  });
  return { sleeve, calibration: feed.calibration };
}

/**
 * A real sleeve on a serial port: opened, asked for its number, and matched with a calibration.
 * @throws PlainError unknown port, no permission, busy, no answer, no calibration, calibration of another sleeve
 */
export async function serialSleeve(
  port: string,
  choice: SleeveChoice,
  store: KnownCalibrations,
): Promise<ReadySleeve> {
  // A bad file is reported before the port is opened.
  const given = choice.calibration === undefined ? null : calibrationFrom(choice.calibration);
  const { createSerialLink } = await import('../../../firmware-bridge/links/serial-link.ts');
  const { link, identity, ...sleeve } = await openedSleeve(createSerialLink(port), given, choice, store);
  return { ...followed(link, identity, store), ...sleeve };
}

/**
 * A sleeve behind a relay and a broker, used like one on a port.
 * @throws PlainError bad address or names, a broker that refuses, no such sleeve; and as for a port
 */
export async function brokerSleeve(
  choice: SleeveChoice & BrokerChoice,
  sleeveNumber: number,
  store: KnownCalibrations,
): Promise<ReadySleeve> {
  const { address, place } = brokerAndPlace(choice);
  const given = choice.calibration === undefined ? null : calibrationFrom(choice.calibration);
  const { createBrokerLink } = await import('../../../firmware-bridge/links/broker/broker-link.ts');
  const link = createBrokerLink({ address, place, sleeveNumber, newId });
  // Not followed: the relay passes no other sleeve's bytes under this number.
  const { calibration, sleeveId } = await openedSleeve(link, given, choice, store);
  return { link, calibration, sleeveId };
}

/** Opens a link, asks who is there, and finds its calibration; closes it again if any of that fails. */
async function openedSleeve(
  link: SleeveLink,
  given: Calibration | null,
  choice: SleeveChoice,
  store: KnownCalibrations,
) {
  await link.open();
  try {
    const identity = await firstValueFrom(hello(link));
    const sleeveId = String(identity.sleeveNumber);
    return { link, identity, sleeveId, calibration: calibrationOf(sleeveId, given, choice, store) };
  } catch (error) {
    await link.close();
    throw error;
  }
}

/** The link of a sleeve that may be swapped for another on the same port. A given file and bottle belong to the first sleeve. */
export function followed(
  link: SleeveLink,
  identity: Identity,
  store: KnownCalibrations,
  scheduler?: SchedulerLike,
): Required<Pick<ReadySleeve, 'link' | 'onOther'>> {
  let take: (sleeve: SleeveThere | null) => void = () => {};
  const onOther = ({ sleeveNumber }: Identity): void => {
    const sleeveId = String(sleeveNumber);
    const kept = store.calibrationFor(sleeveId);
    if (!kept) {
      take(null);
      throw otherSleeve(sleeveId);
    }
    take({ calibration: parseCalibration(kept, `kept for sleeve ${sleeveId}`), sleeveId });
  };
  return {
    link: createIdentifiedLink(link, { identity, onOther }, scheduler),
    onOther(next) {
      take = next;
    },
  };
}

const otherSleeve = (sleeveNumber: string): PlainError =>
  new PlainError(
    'calibration-none',
    `Another sleeve is connected now, number ${sleeveNumber}, and no calibration of it is kept.`,
    'Connect the one from before; or start again with --calibration and the file of this one.',
  );
