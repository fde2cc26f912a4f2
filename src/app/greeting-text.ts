/** What a terminal says once the page is served. */

/** @param label  of the sleeve's link */
export const watchingText = (
  { simulated, practice, folder }: { simulated: boolean; practice: boolean; folder: string },
  url: string,
  label: string,
) => [
  simulated
    ? 'No --port was given: Ebbline watches a simulated feed; nothing here is a real baby.'
    : `Ebbline watches the sleeve on ${label}.`,
  simulated &&
    !practice &&
    'A real sleeve: ebbline start --port DEVICE. Your kept real feeds, without a sleeve: ebbline open.',
  practice && 'Practice, with a doll and water: none of it stands among real feeds.',
  `Page for the caregiver:  ${url}`,
  `Feeds are kept in:       ${folder}`,
  'Not a medical device or an alarm. Watch the baby, not the sleeve. Stop with Ctrl-C.',
];

export const ZONE_ASKED =
  'This computer’s clock is on UTC. Choose your time zone on the page, under Feeds, or with "ebbline data time-zone America/Chicago".';

export const openText = (
  { simulated, hasFeeds, folder }: { simulated: boolean; hasFeeds: boolean; folder: string },
  url: string,
) => [
  `Ebbline shows what is kept${simulated ? ' of the simulated sleeve' : ''}; no sleeve is attached, and nothing is recorded.`,
  `Page:                    ${url}`,
  `Feeds are kept in:       ${folder}`,
  !hasFeeds &&
    `There are none yet. ${simulated ? 'To make some: ebbline start.' : 'For those of the simulated sleeve: ebbline open --simulated.'}`,
  'Not a medical device or an alarm. Stop with Ctrl-C.',
];
