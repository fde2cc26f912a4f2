import { expect, it } from 'vitest';
import { hello } from '../../firmware-bridge/links/hello.ts';
import { createSimulatedLink } from '../../firmware-bridge/links/simulated-link.ts';
import type { Identity } from '../../firmware-bridge/wire/index.ts';
import type { PlainError } from '../../src/base/errors.ts';
import { createFakeSleeve } from '../support/fake-sleeve.ts';
import { createVirtualClock } from '../support/virtual-clock.ts';

async function greeting(change: (sleeve: ReturnType<typeof createFakeSleeve>) => void = () => {}) {
  const clock = createVirtualClock();
  const sleeve = createFakeSleeve();
  change(sleeve);
  const link = createSimulatedLink(sleeve, { label: '/dev/ttyX' }, clock.scheduler);
  await link.open();
  const answers: Identity[] = [];
  const errors: PlainError[] = [];
  hello(link, {}, clock.scheduler).subscribe({
    next: (identity) => answers.push(identity),
    error: (error) => errors.push(error),
  });
  const asked = (): number => sleeve.heard.filter(({ kind }) => kind === 'identity-request').length;
  return { clock, sleeve, link, answers, errors, asked };
}

it('asks at once and takes the first answer', async () => {
  const { clock, sleeve, answers, errors, asked } = await greeting();
  await clock.advance(100);
  expect(answers).toEqual([sleeve.identity]);
  await clock.advance(10_000);
  expect(asked()).toBe(1);
  expect(answers.length).toBe(1);
  expect(errors).toEqual([]);
});

it('asks again while the chip is still starting', async () => {
  const { clock, sleeve, answers } = await greeting((s) => (s.answers = false));
  await clock.advance(2500);
  sleeve.answers = true;
  await clock.advance(1000);
  expect(answers).toEqual([sleeve.identity]);
});

it('gives up when no sleeve answers', async () => {
  const { clock, errors, asked } = await greeting((s) => {
    s.answers = false;
    s.samples = false;
  });
  await clock.advance(5900);
  expect(errors).toEqual([]);
  await clock.advance(200);
  expect(errors[0]).toMatchObject({ code: 'sleeve-silent', message: 'No sleeve answers on /dev/ttyX.' });
  expect(errors[0]!.remedy).not.toBe('');
  const before = asked();
  await clock.advance(5000);
  expect(asked()).toBe(before);
});

it('tells a sleeve that only sends samples from none', async () => {
  const { clock, errors } = await greeting((s) => (s.answers = false));
  await clock.advance(6100);
  expect(errors[0]).toMatchObject({ code: 'sleeve-nameless' });
});

it.each([1, 2])('takes a sleeve of contract version %i', async (contractVersion) => {
  const { clock, answers, errors } = await greeting((s) => (s.identity = { ...s.identity, contractVersion }));
  await clock.advance(100);
  expect(answers).toMatchObject([{ contractVersion }]);
  expect(errors).toEqual([]);
});

it.each([0, 3])('refuses a sleeve of contract version %i', async (contractVersion) => {
  const { clock, answers, errors } = await greeting((s) => (s.identity = { ...s.identity, contractVersion }));
  await clock.advance(100);
  expect(answers).toEqual([]);
  expect(errors[0]).toMatchObject({
    code: 'sleeve-version',
    message: expect.stringContaining(`speaks version ${contractVersion} of`),
    remedy: expect.stringMatching(/version 2 .* or update/),
  });
  expect(errors[0]!.message).toContain('this program speaks versions 1 to 2');
});

it('gives up when the link ends', async () => {
  const { link, errors } = await greeting((s) => (s.answers = false));
  await link.close();
  expect(errors[0]).toMatchObject({ code: 'sleeve-silent' });
});
