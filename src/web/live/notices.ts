/** Lines about this baby or this sleeve, shown beside the main message. Pure. */
import type { LiveView, NoticeKind, Showing } from '../../feed/live/live-view.ts';
import type { Language, Words } from '../../pacing/cues/words.ts';
import type { SensorFault } from '../../sensing/moment.ts';
import { SENSOR_FAULTS } from '../parts/sensor-faults.ts';
import { isCue } from './tone.ts';

type OwnNotice = Exclude<NoticeKind, 'cues-off' | 'not-screened' | 'with-plan' | 'quieter' | 'quietest'>;

const OWN: Record<Language, Record<OwnNotice, string>> = {
  en: {
    'battery-low': 'Battery low: charge the sleeve after this feed.',
    'battery-soon': 'Battery for about half an hour: charge the sleeve after this feed.',
    'whose-feed': 'Whose feed is this? Choose the baby under “Before a feed”.',
    'cues-next-feed': '“Slower” and “enough” cues stay off in this feed; they come with the next one.',
    'screen-again': 'Some answers about this baby went by age. Look at them again under “Before a feed”.',
    'own-feed-faster':
      'Your own feeds run faster than the sleeve can follow, so some cues will come. They do not mean that anything is wrong.',
    'check-sleeve':
      'A sensor of the sleeve is not right. This feed goes on without it; have the sleeve checked.',
    'nipple-pours':
      'Milk ran fast in most of the last feeds with this nipple. Is it a slow-flow one? If not, try one.',
    'slow-nipple-pours':
      'Milk ran fast in most of the last feeds, though the nipple is called slow. The word on a pack does not tell how fast it runs: try another, and look whether its hole has worn.',
    'paces-alone':
      'You now pace without it: your feeds without cues have become longer. Fewer cues may be enough: see “Before a feed”, then the baby.',
    'nipple-runs-by-itself':
      'This nipple, as measured, gives milk faster than the pace even without a suck: hold the bottle nearly level, or take a slower one.',
  },
  es: {
    'battery-low': 'Batería baja: cargue la funda después de esta toma.',
    'battery-soon': 'Batería para una media hora: cargue la funda después de esta toma.',
    'whose-feed': '¿De quién es esta toma? Elija al bebé en «Antes de la toma».',
    'cues-next-feed':
      'Los avisos de «más despacio» y «suficiente» siguen apagados en esta toma; llegan con la próxima.',
    'screen-again':
      'Algunas respuestas sobre este bebé dependían de la edad. Revíselas en «Antes de la toma».',
    'own-feed-faster':
      'Sus propias tomas van más rápido de lo que la funda puede seguir, así que llegarán algunos avisos. No significan que algo vaya mal.',
    'check-sleeve': 'Un sensor de la funda no está bien. Esta toma sigue sin él; haga revisar la funda.',
    'nipple-pours':
      'La leche salió rápido en la mayoría de las últimas tomas con esta tetina. ¿Es de flujo lento? Si no, pruebe una.',
    'slow-nipple-pours':
      'La leche salió rápido en la mayoría de las últimas tomas, aunque la tetina se llame lenta. La palabra del envase no dice cuánto sale: pruebe otra y mire si el orificio está gastado.',
    'paces-alone':
      'Ya marca el ritmo sin la funda: sus tomas sin avisos se han alargado. Quizás basten menos avisos: vea «Antes de la toma», luego el bebé.',
    'nipple-runs-by-itself':
      'Esta tetina, según se midió, da leche más rápido que el ritmo aun sin succión: biberón casi horizontal, o una más lenta.',
  },
};

const CHECKED: Record<Language, string> = {
  en: 'This feed goes on; have the sleeve checked.',
  es: 'Esta toma sigue; haga revisar la funda.',
};

/** @param faults of the sleeve, in the order found: used for `check-sleeve`, to name the sensor and the fault */
export function noticeText(
  kind: NoticeKind,
  language: Language,
  words: Words,
  faults: readonly SensorFault[] = [],
): string {
  switch (kind) {
    case 'check-sleeve':
      return faults[0] ? `${SENSOR_FAULTS[language][faults[0]]} ${CHECKED[language]}` : OWN[language][kind];
    case 'cues-off':
      return words.screening.cuesOff;
    case 'not-screened':
      return words.screening.notScreened;
    case 'with-plan':
      return words.screening.withPlan;
    case 'quieter':
    case 'quietest':
      return words.quiet[kind];
    default:
      return OWN[language][kind];
  }
}

/** A feed that is only in the program's memory has no page yet. */
export const isUnkept = ({ feedId, unkept }: LiveView): boolean =>
  feedId !== null && !!unkept?.includes(feedId);

/** Notices shown during a feed: those that matter now. Others are shown before and after. */
const IN_A_FEED: readonly NoticeKind[] = [
  'battery-low',
  'battery-soon',
  'cues-off',
  'not-screened',
  'cues-next-feed',
  'check-sleeve',
];
/** Most lines; more would push the picture out. */
const MOST = 2;

/**
 * @param notices  most important first
 * @param hasOther  another line is shown already
 * @returns those to show now: beside a cue none but a low battery, in a feed one, else two
 */
export function noticesNow(
  notices: readonly NoticeKind[],
  showing: Showing | undefined,
  feedOpen: boolean,
  hasOther = false,
): readonly NoticeKind[] {
  if (isCue(showing)) return notices.filter((kind) => kind === 'battery-low');
  if (feedOpen) return notices.filter((kind) => IN_A_FEED.includes(kind)).slice(0, 1);
  // "Questions not answered" includes what "cues are off" says, and what to do.
  const isUnasked = notices.includes('not-screened');
  return notices.filter((kind) => !(isUnasked && kind === 'cues-off')).slice(0, hasOther ? MOST - 1 : MOST);
}
