/** `ebbline plan`, `milk`, `feeding-plan`, `day-sheet`: run as a person would; what they say stands in packing-service.test.ts. */
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { requireBuild, runCommand } from '../support/command.ts';
import { DAY_MS, packingStore } from '../support/packing-store.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

let data = '';
beforeAll(() => {
  requireBuild();
  data = mkdtempSync(join(tmpdir(), 'ebbline-packing-'));
  packingStore(data, Date.now()).close();
});
afterAll(() => rmSync(data, { recursive: true, force: true }));

const run = (...args: string[]) => runCommand(args, { data });
const refused = async (...args: string[]) => {
  const { code, stdout, stderr } = await runCommand(args, { data: temporaryFolder() });
  expect([args, code, stdout]).toEqual([args, 2, '']);
  return stderr;
};

describe('the commands of the parent’s side', () => {
  it('plan from the kept feeds, and take containers from a file', async () => {
    const { code, stdout, stderr } = await run('plan', '--away', '8:30-17:30');
    expect({ code, stderr }).toEqual({ code: 0, stderr: '' });
    expect(stdout).toMatch(/8:30 AM to 5:30 PM: 9 hours, 3 feeds, as on most past days\./);
    const file = join(data, 'milk.json');
    const container = {
      id: 'A',
      kind: 'expressed',
      volumeMl: 420,
      expressedAtMs: Date.now() - DAY_MS,
      place: 'fridge',
      thawedAtMs: null,
      warmedAtMs: null,
      heldBack: false,
    };
    writeFileSync(file, JSON.stringify([container]));
    const json = await run('plan', '--milk', file, '--short-days', '10', '--json');
    expect(JSON.parse(json.stdout)).toMatchObject({ asIfEnough: false, plan: { meetsLimit: true } });
    writeFileSync(file, JSON.stringify([container, container]));
    const twice = await run('plan', '--milk', file);
    expect([twice.code, twice.stdout]).toEqual([2, '']);
    expect(twice.stderr).toContain('Container A is listed twice.');
  });

  it('keep milk from one call to the next', async () => {
    const folder = temporaryFolder();
    await runCommand(['milk', 'add', '--amount', '3 fl oz', '--place', 'fridge'], { data: folder });
    expect((await runCommand(['milk'], { data: folder })).stdout).toMatch(
      /In the fridge\n {2}1 +3 fl oz \(89 mL\)/,
    );
  });

  it('print a sheet, whole or not at all', async () => {
    const pdf = join(data, 'plan.pdf');
    const made = await run(
      'print',
      'feeding-plan',
      '--out',
      pdf,
      '--call',
      'Mara, 555-0142',
      '--language',
      'es',
    );
    expect(made).toEqual({ code: 0, stderr: '', stdout: `${pdf}\n` });
    expect(readFileSync(pdf).subarray(0, 5).toString()).toBe('%PDF-');
    const out = join(temporaryFolder(), 'plan.pdf');
    expect(await refused('print', 'feeding-plan', '--out', out)).toContain('--call');
    expect(existsSync(out)).toBe(false);
  });

  it('say what is missing or impossible', async () => {
    expect(await refused('plan')).toContain('--born');
    expect(await refused('plan', '--feeds', '0')).toContain('above zero');
    expect(await refused('milk', 'spill')).toContain("unknown command 'spill'");
    expect(await refused('milk', 'thaw')).toContain("missing required argument 'label'");
  });
});
