/**
 * The thread that speaks with PostgreSQL, so that the store's calls can wait for it (server-connection.ts). One connection, made anew only when it
 * is asked for: what was begun on one that is lost must not go on in another. Plain JavaScript: threads of Node read no TypeScript.
 *
 * Comes in: { id, connect: true } or { id, statements: [{ sql, name, values }] }, which are sent together. Goes out: { id, rows, changes } of the
 * last one, or { id, fault: { code, message } } of the first that failed. After each answer the number in `answered` is its id.
 */
import { parentPort, workerData } from 'node:worker_threads';
import pg from 'pg';

const { port, shared, client: options, start } = workerData;
const [ANSWERED, STATE] = [0, 1];
const [AWAY, THERE] = [0, 2];
const flags = new Int32Array(shared);

/** Whole numbers as numbers, JSON as it stands. */
const asText = new Set([114, 3802]);
const asNumber = new Set([20, 1700]);
const types = {
  getTypeParser(oid, format) {
    if (asText.has(oid)) return (text) => text;
    if (asNumber.has(oid)) return Number;
    return pg.types.getTypeParser(oid, format);
  },
};

let client = null;
let known = new Set();

const faultOf = ({ code, message, reason }) => ({ code: code ?? reason ?? '', message: String(message) });

function answer(message) {
  port.postMessage(message);
  Atomics.store(flags, ANSWERED, message.id);
  Atomics.notify(flags, ANSWERED);
}

async function connect() {
  // At once: it may wait for an answer that never comes.
  client?.connection.stream.destroy();
  const next = new pg.Client({ ...options, types, pipeline: true });
  const lost = () => {
    if (client === next) Atomics.store(flags, STATE, AWAY);
  };
  next.on('error', lost);
  next.on('end', lost);
  client = next;
  known = new Set();
  await next.connect();
  for (const { sql, values } of start) await next.query(sql, values);
  if (client !== next) throw new Error('Connection terminated');
  Atomics.store(flags, STATE, THERE);
}

/** One that was not sent before is waited for: its name counts only once the server has it. */
async function run(statements) {
  // What was begun on one connection never goes on in the next.
  const own = client;
  const sent = [];
  for (const { sql, name, values } of statements) {
    const asked = own.query(values === undefined ? sql : { text: sql, name, values });
    asked.catch(() => {});
    sent.push(asked);
    if (name !== undefined && !known.has(name)) {
      await asked;
      if (own === client) known.add(name);
    }
  }
  let last;
  for (const one of sent) last = await one;
  // Several statements in one text give a list.
  return Array.isArray(last) ? last.at(-1) : last;
}

port.on('message', async ({ id, connect: isNew, statements }) => {
  try {
    if (isNew) {
      await connect();
      return answer({ id, rows: [], changes: 0 });
    }
    const { rows, rowCount } = await run(statements);
    answer({ id, rows, changes: rowCount ?? 0 });
  } catch (error) {
    if (isNew) Atomics.store(flags, STATE, AWAY);
    answer({ id, fault: faultOf(error) });
  }
});
parentPort.on('message', async () => {
  await client?.end().catch(() => {});
  process.exit(0);
});
