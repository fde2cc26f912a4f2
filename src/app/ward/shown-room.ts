/** What a board shows: a room as heard from its broker, or one with invented cots. */
import type { FeedStore } from '../../store/feed-store.ts';
import { familyZone } from '../kept/family-zone.ts';
import { tellTrouble } from '../kept/tell-trouble.ts';
import { newId } from '../relay/broker-choice.ts';
import { type BrokerSourceOptions, brokerSource } from './broker-source.ts';
import { demoSource, RoomBoard } from './room-board.ts';
import { wardBoard } from './ward-board.ts';
import { wardStudies } from './ward-studies.ts';

/** Takes what ends it, in the order in which it was begun. */
type Closing = (() => unknown)[];

export function inventedRoom(cots: number, closing: Closing) {
  const board = new RoomBoard(demoSource({ seed: 1, cots }), {
    ...{ site: 'demo', room: 'Demo', isDemo: true },
    cotOf: (sleeve) => String(sleeve),
  });
  closing.push(() => board.close());
  return { view$: board.view$ };
}

/** @returns what the pages show, and the parts by which a board is known to be well */
export function heardRoom(store: FeedStore, heard: Omit<BrokerSourceOptions, 'id'>, closing: Closing) {
  const { place, say } = heard;
  const source = brokerSource({ ...heard, id: newId() });
  const ward = wardBoard(store, source, { ...place, zone: familyZone(store).zone, nowMs: Date.now });
  closing.push(() => ward.board.close());
  closing.push(tellTrouble(() => ward.trouble()?.text ?? null, say));
  return {
    pages: { view$: ward.board.view$, ward: ward.service, studies: wardStudies(store, Date.now) },
    parts: { board: ward.board, brokerTrouble: source.trouble, storeTrouble: ward.trouble, nowMs: Date.now },
  };
}
