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
  /** The broker throws it away after so many seconds in its queue. */
  expirySec?: number;
}

export interface BrokerSession {
  readonly messages$: Observable<BrokerMessage>;
  /** QoS 1. @param done  called once the broker has it; never when the connection is lost before */
  publish(topic: string, payload: Uint8Array, options?: PublishOptions, done?: () => void): void;
}

export interface SessionOptions {
  clientId: string;
  /** What the broker says when this connection is cut; retained. */
  will?: { topic: string; payload: Uint8Array };
  /** How long the broker keeps what comes while the connection is away, seconds; 0: nothing. */
  keepSec: number;
  topics: readonly string[];
}

/** A broker that says nothing for 1.5 times this long is gone (MQTT version 5.0, section 3.1.2.10). */
const KEEP_ALIVE_SEC = 5;
/** Reason codes: MQTT version 5.0, section 2.4. */
const BAD_PASSWORD = 134;
const NOT_AUTHORIZED = 135;
const CONNECT_LIMIT_MS = 10_000;

/** Gives the session once it is there, and fails with a PlainError when it cannot be had or is lost. Unsubscribing ends it. */
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
      // Small messages go at once, or they wait for the last one's receipt, 40 ms on Linux.
      (client.stream as unknown as Partial<Socket>).setNoDelay?.(true);
      client.subscribe(subscriptions(options.topics), (error, granted = []) => {
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

/** What this connection publishes does not come back to it; shared ones may not ask for that (MQTT version 5.0, section 3.8.3.1). */
const subscriptions = (topics: readonly string[]) =>
  Object.fromEntries(topics.map((topic) => [topic, { qos: 1 as const, nl: !topic.startsWith('$share/') }]));

/** Brokers differ in what they call a wrong password: 135, not authorized, at the door means nothing else. */
const atTheDoor = (error: Error & { code?: unknown }): unknown =>
  error.code === NOT_AUTHORIZED ? { code: BAD_PASSWORD, message: error.message } : error;

const publisher =
  (client: MqttClient, fail: (error: unknown) => void): BrokerSession['publish'] =>
  (topic, payload, { retain = false, expirySec } = {}, done = () => {}) => {
    if (!client.connected) return;
    const properties = expirySec === undefined ? {} : { messageExpiryInterval: expirySec };
    client.publish(topic, payload as Buffer, { qos: 1, retain, properties }, (error) => {
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
    // Tried again by our own clock, so that tests can move it and a refusal can be said.
    reconnectPeriod: 0,
    resubscribe: false,
    timerVariant: 'native',
    ...(address.ca !== null && { ca: address.ca }),
    ...(address.user !== null && { username: address.user }),
    ...(address.password !== null && { password: address.password }),
    ...(will && { will: { topic: will.topic, payload: will.payload as Buffer, qos: 1, retain: true } }),
  };
}

function end(client: MqttClient): void {
  // Whatever a dying connection still says is of no interest any more; unheard it would end the program.
  client.removeAllListeners('error');
  client.on('error', () => {});
  client.end(!client.connected);
}

export interface LastingSession {
  address: BrokerAddress;
  /** Asked before each try. */
  options: () => SessionOptions;
  begin(session: BrokerSession): void;
  /** It could not be had, or was lost; it is tried again by itself. */
  halt(error: PlainError): void;
}

/** A session that is had again whenever it was lost, after waits as for a port. Unsubscribing ends it. */
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
