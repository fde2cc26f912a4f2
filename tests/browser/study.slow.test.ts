/** The pages of studies in a real browser, with a real service behind them; everything in them is invented. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { babyService } from '../../src/app/babies/babies-service.ts';
import { keptService } from '../../src/app/kept/kept-service.ts';
import { studyService } from '../../src/app/study/page/study-service.ts';
import { recomputeStudy } from '../../src/app/study/recompute/recompute.ts';
import { studyChoices } from '../../src/app/study/study-feeds.ts';
import { STUDY_CLOCK, StudyFolder, studiesAmong } from '../../src/app/study/study-folder.ts';
import { openStore } from '../../src/store/open-store.ts';
import { sideFilesIn } from '../../src/store/side-files.ts';
import { hasBrowser, noBrowserReason } from '../support/browser.ts';
import { readFixture } from '../support/captures.ts';
import { recordFeed } from '../support/recorded-feed.ts';
import { ALONE, PROTOCOL, SECOND_BYTES, START_MS } from '../support/study.ts';
import { isSound, ServedPage } from './served-page.ts';

describe.skipIf(!hasBrowser)(`studies${noBrowserReason}`, () => {
  const on = new ServedPage();
  let data = '';

  beforeAll(async () => {
    await on.open(
      (folder) => {
        data = folder;
        return openStore(data, { recording: true, nowMs: () => START_MS + 3600_000 });
      },
      (store) => ({
        babies: babyService(store),
        kept: keptService(store, data),
        studies: studyService(studiesAmong(sideFilesIn(data))),
        studyChoices: () => studyChoices(studiesAmong(sideFilesIn(data)), STUDY_CLOCK),
      }),
    );
    let at = START_MS;
    const study = StudyFolder.begin(studiesAmong(sideFilesIn(data)), PROTOCOL, {
      nowMs: () => at++,
      drawSeed: () => 7,
    });
    for (const [i, participant] of ['F01', 'F02', 'F03', 'F04'].entries()) {
      study.enroll(participant, 'all');
      const { bytes, calibration } = readFixture(i % 2 === 0 ? 'calm' : 'poured');
      const seconds = 40 + 5 * i;
      recordFeed(on.store, {
        id: participant.toLowerCase(),
        bytes: bytes.subarray(0, seconds * SECOND_BYTES),
        calibration,
        startMs: START_MS,
      });
      study.bind(participant.toLowerCase(), participant);
    }
    study.bind('gone', 'F01');
    await recomputeStudy(study, on.store, ALONE, { programSha256: 'abc', softwareVersion: '2.0.0' });
  });
  afterAll(() => on.close());

  it.each([
    ['light', 'en-US', 'Studies on this computer', 'Curves of the arms', 'feed not kept any more'],
    ['dark', 'es-US', 'Estudios en esta computadora', 'Curvas de los grupos', 'la toma ya no se guarda'],
  ] as const)(
    'are reached from what is kept, on a %s ground (%s)',
    async (colorScheme, locale, link, curves, why) => {
      const page = await on.opened('#/kept', { colorScheme, locale });
      await page.getByRole('link', { name: link }).click();
      await page.getByRole('link', { name: PROTOCOL.title }).waitFor();
      await isSound(page);
      await page.getByRole('link', { name: PROTOCOL.title }).click();
      await page.getByRole('heading', { name: curves }).waitFor();
      await page.locator('figure svg').waitFor();
      await page.getByText(why).waitFor();
      await page
        .getByText(/coded-1/)
        .first()
        .waitFor();
      await page.getByText(/never withheld|nunca se retienen/).waitFor();
      await isSound(page);
      await page.context().close();
    },
  );

  it('are named before a feed; the feed says that cues are not shown, and shows them at one touch', async () => {
    const page = await on.opened('#/before');
    await page.getByLabel('Study').selectOption({ label: 'F02' });
    await isSound(page);
    await page.getByRole('button', { name: 'Keep' }).click();
    await expect
      .poll(() => on.live.commands.at(-1))
      .toMatchObject({ kind: 'setup', setup: { study: 'pace-1', participant: 'F02' } });
    on.live.show({ feedState: 'open', feedId: 'a-feed', showing: 'cues-withheld', aheadOfPace: null });
    await page.getByText('Study feed').first().waitFor();
    await page.locator('.more').getByText('Go by baby and signs of stress, as always.').waitFor();
    await isSound(page);
    await page.getByRole('button', { name: 'Show the cues' }).click();
    await expect.poll(() => on.live.commands.at(-1)).toEqual({ kind: 'show-cues' });
    on.live.show({ feedState: 'none', feedId: null, showing: 'waiting' });
    await page.context().close();
  });

  it('without a complaint of the browser', () => {
    expect(on.complaints).toEqual([]);
  });
});
