/** A broker and a place on it, from the options of a command. */
import { randomBytes } from 'node:crypto';
import {
  type BrokerAddress,
  type BrokerChoice,
  brokerAddress,
} from '../../../firmware-bridge/links/broker/broker-address.ts';
import { checkedPlace, type Place } from '../../../firmware-bridge/links/broker/topics.ts';

export type { BrokerChoice };

export interface PlaceChoice {
  site?: string;
  room?: string;
}

/** @throws PlainError broker-address, broker-place */
export const brokerAndPlace = (
  choice: BrokerChoice & PlaceChoice,
): { address: BrokerAddress; place: Place } => ({
  address: brokerAddress(choice),
  place: checkedPlace(choice),
});

/** @returns 16 random hexadecimal digits */
export const newId = (): string => randomBytes(8).toString('hex');
