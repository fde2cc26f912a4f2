/**
 * Photographs every page of a house's board, for looking at: on a tablet and a phone, by day and by night, in both languages, and in simulated
 * color-vision deficiencies. Children, feeds and people are invented.
 *
 *   npx tsx tests/manual/board-gallery.ts FOLDER
 */
import { mkdirSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import type { Page } from 'playwright-core';
import { BehaviorSubject } from 'rxjs';
import { createCrew } from '../../src/app/study/crew/crew.ts';
import { recomputeStudy } from '../../src/app/study/recompute/recompute.ts';
import { StudyFolder, studiesAmong } from '../../src/app/study/study-folder.ts';
import { wardService } from '../../src/app/ward/ward-service.ts';
import { wardStudies } from '../../src/app/ward/ward-studies.ts';
import { SHOWN_CUES } from '../../src/pacing/cues/shown-cues.ts';
import { createBoardServer } from '../../src/server/ward/board-server.ts';
import type { People } from '../../src/server/ward/people.ts';
import { EMPTY_SETUP } from '../../src/store/database/settings.ts';
import { openStore } from '../../src/store/open-store.ts';
import type { BoardCot, Stopped } from '../../src/ward/board/board-view.ts';
import { needOf } from '../../src/ward/board/needs.ts';
import { actsOf, ROLES, roleFor } from '../../src/ward/people/roles.ts';
import { babyEntry } from '../support/babies.ts';
import { boardCot, boardView, CALM_COTS, LOOK_COTS } from '../support/board-cots.ts';
import { builtPage, launchBrowser, PHONE } from '../support/browser.ts';
import { readFixture } from '../support/captures.ts';
import { recordFeed } from '../support/recorded-feed.ts';
import { PROTOCOL } from '../support/study.ts';
import { CODES } from '../support/ward-house.ts';

const folder = resolve(process.argv[2] ?? 'board-gallery.tmp');
mkdirSync(folder, { recursive: true });
const data = mkdtempSync(join(tmpdir(), 'ebbline-gallery-'));
const HOUR_MS = 3600_000;
const ANA = { person: 'p-ana', role: 'lead' } as const;

const store = openStore(data, { recording: true });
const [first, second] = ['Ilo', 'Uma'].map((name) => store.addBaby({ ...babyEntry(), name }).id) as [
  string,
  string,
];
for (const [i, babyId] of [first, second].entries()) {
  const { bytes, calibration } = readFixture(i === 0 ? 'calm' : 'poured');
  const setup = {
    ...EMPTY_SETUP,
    babyId,
    babyName: i === 0 ? 'Ilo' : 'Uma',
    caregiver: 'Rosa',
    portionMl: 90,
  };
  const startMs = Date.now() - (2 + i) * HOUR_MS;
  recordFeed(store, {
    id: `feed-${i}`,
    bytes,
    calibration,
    startMs,
    setup: { ...setup, milkKind: 'expressed' },
  });
}
store.ward(({ records }) => {
  for (const [babyId, cot, code] of [
    [first, 'A1', CODES.first],
    [second, 'A2', CODES.second],
  ] as const) {
    records.addStay({ babyId, cot, fromMs: Date.now() - 9 * HOUR_MS });
    records.addLabel({ code, kind: 'child', babyId, sleeve: null, madeAtMs: 0 });
    records.addConsent({ babyId, what: 'research', person: null, fromMs: 0, untilMs: null, givenTo: null });
  }
  records.addConsent({
    babyId: first,
    what: 'parent',
    person: 'p-ana',
    fromMs: 0,
    untilMs: null,
    givenTo: null,
  });
  for (const code of [CODES.bottle, CODES.other])
    records.addLabel({ code, kind: 'bottle', babyId: null, sleeve: null, madeAtMs: 0 });
  records.addLabel({ code: CODES.sleeve, kind: 'sleeve', babyId: null, sleeve: 7, madeAtMs: 0 });
});
let at = Date.now();
const study = StudyFolder.begin(studiesAmong(store.files), PROTOCOL, {
  nowMs: () => at++,
  drawSeed: () => 7,
});
for (const [i, participant] of ['F01', 'F02'].entries()) {
  study.enroll(participant, 'all');
  study.bind(`feed-${i}`, participant);
}
await recomputeStudy(study, store, createCrew({ hands: 0 }), {
  programSha256: 'abc',
  softwareVersion: '2.0.0',
});

const service = wardService(store, { nowMs: Date.now, zone: 'America/Chicago', isFeeding: () => false });
const FORMULA = { ml: 90, from: null, kind: 'formula' } as const;
service.fill({ bottle: CODES.bottle, child: CODES.first, ...FORMULA }, ANA);
service.fill({ bottle: CODES.other, child: CODES.second, ...FORMULA }, ANA);

const calling: BoardCot[] = SHOWN_CUES.map((showing, i) =>
  boardCot({
    ...{ sleeve: i + 1, cot: `A${i + 1}`, showing, forMin: i % 3 },
    need: needOf({ showing, shownForSec: i === 0 ? 60 : 0, isFeeding: true, isReady: false }),
  }),
);
const ROOM: BoardCot[] = [
  ...LOOK_COTS,
  boardCot({
    sleeve: 99,
    cot: null,
    need: 'look',
    showing: 'no-guidance',
    cause: 'sleeve-unknown',
    feedMin: null,
  }),
  ...calling,
  ...CALM_COTS,
];
const STOPPED: Stopped[] = [{ cot: 'A2', sleeve: null, code: 'wrong-child' }];
const view$ = new BehaviorSubject(boardView(ROOM));
const people: People = {
  personOf: ({ headers: { cookie = '' } }) => {
    const role = ROLES.find((one) => cookie.includes(`as=${one}`));
    return role ? { id: 'p-ana', name: 'Ana Example', roles: [role] } : null;
  },
  roleFor,
  actsOf,
};
const page = builtPage();
const studies = wardStudies(store, Date.now);
const server = await createBoardServer({
  view$,
  webFolder: page.folder,
  port: 0,
  ward: service,
  people,
  studies,
});
const beat = setInterval(() => view$.next(view$.value), 300);
const browser = await launchBrowser();

const TABLET = { width: 1024, height: 768 };
const LOOKS = [
  ['tablet-day-en', { viewport: TABLET, locale: 'en-US' }, 12],
  ['tablet-night-es', { viewport: TABLET, locale: 'es-MX', colorScheme: 'dark' }, 3],
  ['phone-day-es', { viewport: PHONE, locale: 'es-MX' }, 12],
  ['phone-night-en', { viewport: PHONE, locale: 'en-US', colorScheme: 'dark' }, 3],
] as const;

const scan = async (tab: Page, codes: readonly string[]) => {
  for (const code of codes) {
    await tab.locator('#scan-code').fill(code);
    await tab.keyboard.press('Enter');
    await tab.waitForTimeout(300);
  }
};
type Scene = [name: string, role: string, hash: string, act?: (tab: Page) => Promise<void>];
const SCENES: Scene[] = [
  ['board', 'lead', '#/'],
  [
    'board-stopped',
    'lead',
    '#/',
    async () => {
      view$.next(boardView(ROOM.slice(0, 5), { stopped: STOPPED, isCutOff: true }));
    },
  ],
  ['bind', 'hold', '#/bind'],
  ['bind-more', 'hold', '#/bind', (tab) => scan(tab, [CODES.first])],
  ['bind-stop', 'hold', '#/bind', (tab) => scan(tab, [CODES.first, CODES.other])],
  ['bind-bound', 'hold', '#/bind', (tab) => scan(tab, [CODES.first, CODES.bottle, CODES.sleeve])],
  ['bind-release', 'hold', '#/bind', (tab) => scan(tab, [CODES.sleeve])],
  [
    'bind-released',
    'hold',
    '#/bind',
    async (tab) => {
      await scan(tab, [CODES.sleeve]);
      await tab.locator('.scan-ways button').first().click();
    },
  ],
  ['fill', 'hold', '#/fill'],
  ['handover', 'lead', '#/handover'],
  ['trail', 'lead', '#/trail'],
  ['own', 'parent', '#/'],
  ['studies', 'researcher', '#/'],
  ['study', 'researcher', '#/studies/pace-1'],
  ['sign-in', 'nobody', '#/'],
  ['refused', 'nobody', '?refused=sign-in-no-role#/'],
];

async function shoot(
  look: (typeof LOOKS)[number],
  scenes: readonly Scene[],
  deficiency?: string,
): Promise<void> {
  const [name, options, hour] = look;
  const context = await browser.newContext({ ...options, timezoneId: 'America/Chicago' });
  await context.addInitScript((now) => {
    Date.prototype.getHours = () => now;
  }, hour);
  for (const [scene, role, hash, act] of scenes) {
    view$.next(boardView(ROOM));
    await context.addCookies([{ name: 'as', value: role, url: server.url }]);
    const tab = await context.newPage();
    if (deficiency) {
      const session = await context.newCDPSession(tab);
      await session.send('Emulation.setEmulatedVisionDeficiency', { type: deficiency as 'deuteranopia' });
    }
    await tab.goto(`${server.url}${hash}`);
    await tab.waitForTimeout(900);
    await act?.(tab);
    await tab.waitForTimeout(600);
    const path = join(folder, `${scene}-${name}${deficiency ? `-${deficiency}` : ''}.png`);
    await tab.screenshot({ path, fullPage: true, animations: 'disabled' });
    await tab.close();
  }
  await context.close();
}

for (const look of LOOKS) {
  await shoot(look, SCENES);
  // Each look binds the sleeve again.
  store.ward(({ records }) => records.unbind(7, Date.now()));
}
for (const deficiency of ['deuteranopia', 'protanopia', 'tritanopia', 'achromatopsia'])
  await shoot(LOOKS[0], SCENES.slice(0, 2), deficiency);
clearInterval(beat);
await browser.close();
await server.close();
page.remove();
store.close();
rmSync(data, { recursive: true });
