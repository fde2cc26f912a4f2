/** A connection to a broker by MQTT 5: once, or again whenever it was lost. */
import type { Socket } from 'node:net';
import mqtt, { type IClientOptions, type MqttClient } from 'mqtt';
import { defer, Observable, retry, type SchedulerLike, Subject, type Subscription, tap, timer } from 'rxjs';
import type { PlainError } from '../../../src/base/errors.ts';
import { monotonic } from '../monotonic.ts';
import { retryDelayMs } from '../serial-link.ts';
import type { BrokerAddress } from './broker-address.ts';
import { brokerError } from './broker-errors.ts';

export interface BrokerMessage {
  topic: string;
  payload: Uint8Array;
  isRetained: boolean;
}

export interface PublishOptions {
  retain?: boolean;
  /** The broker discards the message after this many seconds in a queue. */
  expirySec?: number;
  /** QoS 0: for a message that is not worth being sent a second time. */
  isFleeting?: boolean;
}

export interface BrokerSession {
  readonly messages$: Observable<BrokerMessage>;
  /** QoS 1, unless fleeting. @param done  called once the broker has confirmed it; never if the connection is lost before */
  publish(topic: string, payload: Uint8Array, options?: PublishOptions, done?: () => void): void;
}

export interface SessionOptions {
  clientId: string;
  /** Message that the broker publishes (retained) when this connection breaks. */
  will?: { topic: string; payload: Uint8Array };
  /** How long the broker holds messages for this client while it is disconnected, seconds; 0: not at all. */
  keepSec: number;
  /** Received with QoS 1. */
  topics: readonly string[];
  /** Received with QoS 0, without a receipt for each message: of topics whose reader notices a missing message and asks for it. */
  unconfirmed?: readonly string[];
}

/** A broker that is silent for 1.5 times this long counts as lost (MQTT version 5.0, section 3.1.2.10). */
const KEEP_ALIVE_SEC = 5;
/** Reason codes: MQTT version 5.0, section 2.4. */
const BAD_PASSWORD = 134;
const NOT_AUTHORIZED = 135;
const CONNECT_LIMIT_MS = 10_000;

/** Emits the session once it is connected; fails with a PlainError if it cannot connect or is lost. Unsubscribing ends it. */
export function brokerSession(address: BrokerAddress, options: SessionOptions): Observable<BrokerSession> {
  return new Observable((subscriber) => {
    const client = mqtt.connect(clientOptions(address, options));
    const messages$ = new Subject<BrokerMessage>();
    const fail = (error: unknown): void => {
      if (!subscriber.closed) subscriber.error(brokerError(address.label, error));
    };
    let isIn = false;
    client.on('error', (error) => fail(isIn ? error : atTheDoor(error)));
    client.on('close', () => fail({}));
    client.on('disconnect', ({ reasonCode }) =>
      fail({ code: reasonCode, message: 'it closed the connection' }),
    );
    client.on('message', (topic, payload, { retain }) =>
      messages$.next({ topic, payload, isRetained: retain }),
    );
    client.on('connect', () => {
      isIn = true;
      // Small messages are sent at once; otherwise they wait for the receipt of the last one, 40 ms on Linux.
      (client.stream as unknown as Partial<Socket>).setNoDelay?.(true);
      client.subscribe(subscriptions(options), (error, granted = []) => {
        const refused = granted.find(({ qos }) => qos >= 128);
        if (error) fail(error);
        else if (refused) fail({ code: Number(refused.qos), message: 'subscription refused' });
      });
      subscriber.next({ messages$, publish: publisher(client, fail) });
    });
    return () => {
      messages$.complete();
      end(client);
    };
  });
}

/** This connection's own messages do not come back to it; for shared subscriptions that option is not allowed (MQTT version 5.0, section 3.8.3.1). */
const subscriptions = ({ topics, unconfirmed = [] }: SessionOptions) => {
  const at = (qos: 0 | 1) => (topic: string) => [topic, { qos, nl: !topic.startsWith('$share/') }] as const;
  return Object.fromEntries([...topics.map(at(1)), ...unconfirmed.map(at(0))]);
};

/** Brokers report a wrong password with different codes; 135 (not authorized) on connecting can mean nothing else. */
const atTheDoor = (error: Error & { code?: unknown }): unknown =>
  error.code === NOT_AUTHORIZED ? { code: BAD_PASSWORD, message: error.message } : error;

const publisher =
  (client: MqttClient, fail: (error: unknown) => void): BrokerSession['publish'] =>
  (topic, payload, { retain = false, expirySec, isFleeting = false } = {}, done = () => {}) => {
    if (!client.connected) return;
    const properties = expirySec === undefined ? {} : { messageExpiryInterval: expirySec };
    client.publish(topic, payload as Buffer, { qos: isFleeting ? 0 : 1, retain, properties }, (error) => {
      if (!error) done();
      else if (client.connected) fail(error);
    });
  };

function clientOptions(address: BrokerAddress, options: SessionOptions): IClientOptions {
  const { clientId, will, keepSec } = options;
  return {
    protocol: address.protocol,
    host: address.host,
    port: address.port,
    protocolVersion: 5,
    clientId,
    clean: keepSec === 0,
    properties: { sessionExpiryInterval: keepSec },
    keepalive: KEEP_ALIVE_SEC,
    connectTimeout: CONNECT_LIMIT_MS,
    // Reconnecting uses our own scheduler, so that tests control the time and refusals are reported.
    reconnectPeriod: 0,
    resubscribe: false,
    timerVariant: 'native',
    // Otherwise the library composes log lines for each message, even if nobody reads them.
    log: () => {},
    ...(address.ca !== null && { ca: address.ca }),
    ...(address.user !== null && { username: address.user }),
    ...(address.password !== null && { password: address.password }),
    ...(will && { will: { topic: will.topic, payload: will.payload as Buffer, qos: 1, retain: true } }),
  };
}

function end(client: MqttClient): void {
  // Later errors of a closed connection do not matter, but without a listener they would end the program.
  client.removeAllListeners('error');
  client.on('error', () => {});
  client.end(!client.connected);
}

export interface LastingSession {
  address: BrokerAddress;
  /** Called before each attempt. */
  options: () => SessionOptions;
  begin(session: BrokerSession): void;
  /** Connecting failed or the connection was lost; the next attempt follows by itself. */
  halt(error: PlainError): void;
}

/** A session that is connected again whenever it is lost, after the same delays as a serial port. Unsubscribing ends it. */
export const lastingSession = (
  { address, options, begin, halt }: LastingSession,
  scheduler: SchedulerLike = monotonic,
): Subscription =>
  defer(() => brokerSession(address, options()))
    .pipe(
      tap({ next: begin, error: halt }),
      retry({
        resetOnSuccess: true,
        delay: (_: unknown, attempt) => timer(retryDelayMs(attempt), scheduler),
      }),
    )
    .subscribe();
