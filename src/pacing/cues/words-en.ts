/**
 * English. Sources of the advice (leaflets of the trade, not trials):
 * - bottle nearly level, just enough milk to cover the hole: a US hospital's leaflet (Women & Infants), a US public programme's (Indiana WIC), NHS trusts'
 *   pages after UNICEF UK Baby Friendly; that milk runs faster the steeper the bottle: a bench test (2023, Am J Speech Lang Pathol);
 * - lowered so that the nipple empties and stays in, until baby sucks again: Indiana WIC; a short rest after some sucks, other arm half-way: Women & Infants;
 * - burp during and after, none after some minutes is fine, upright for 10 to 15 minutes: AAP;
 * - signs of hunger and fullness, no need to finish a bottle: CDC; signs of stress: a hospital's and a US public programme's leaflets;
 * - names on packages do not tell how fast a nipple is: Pados, Park and Dodrill 2019, Adv Neonatal Care 19:32;
 * - nipple out and sitting up when lowering did not help, a slow-flow nipple, hard to wake, fewer wet diapers: common practice, no source.
 */
import type { Switch } from './cues.ts';
import type { ShownCue } from './shown-cues.ts';

/** Key of a text: a cue, or one of the states without a cue. */
export type WordKey =
  | ShownCue
  | 'gentle'
  | 'held-steeply'
  | 'cannot-tell'
  | 'no-guidance'
  | 'guidance-off'
  | 'cues-withheld'
  | 'waiting';

export interface ShownWords {
  /** Readable at two meters in the dark: at most four words. */
  glance: string;
  /** What to do, in one line. */
  say: string;
  /** One more line, for a caregiver who has time to read. */
  more: string;
}

export const WORDS_EN = {
  shown: {
    'tilt-down': {
      glance: 'Lower your hand',
      say: 'Lower your hand: bottom of the bottle down, nipple stays in.',
      more: 'Milk is coming fast. Keep the bottle low until baby sucks again.',
    },
    burp: {
      glance: 'Burp',
      say: 'A good moment to burp: nipple out, bottle up, baby upright.',
      more: 'No burp after a few minutes is fine, too.',
    },
    'last-burp': {
      glance: 'Burp, then look',
      say: 'Nipple out, baby upright. Look at baby.',
      more: 'Baby may need a rest now. No burp is fine, too.',
    },
    'switch-side': {
      glance: 'Change arms',
      say: 'In a pause, move baby to your other arm.',
      more: 'Baby decides whether there is more to drink.',
    },
    'offer-stop': {
      glance: 'Look at baby',
      say: 'Mouth closed? Turned away? Hands open? Then it is time to stop.',
      more: 'Baby does not need to finish. Hard to wake, or fewer wet diapers than usual: call your clinician.',
    },
    'keep-low': {
      glance: 'Keep it low',
      say: 'Keep the bottle low until baby sucks again. Nipple stays in.',
      more: 'Milk is still coming fast. Baby needs time to swallow and breathe.',
    },
    'nipple-out': {
      glance: 'Nipple out',
      say: 'Let baby breathe, sitting up. Wait until breathing is easy.',
      more: 'If it pours with the bottle level, check the nipple: a slow-flow one may suit better.',
    },
    'breath-pause': {
      glance: 'A short rest',
      say: 'A short rest for a breath: bottom of the bottle down, nipple stays in.',
      more: 'Keep it low until baby sucks again.',
    },
    'lower-is-fine': {
      glance: 'Lower is fine',
      say: 'Milk covers the hole with the bottle held lower, too.',
      more: 'Nearly level is enough.',
    },
    'hole-dry': {
      glance: 'The hole is dry',
      say: 'If baby is sucking, raise the bottom of the bottle a little.',
      more: 'Air in the nipple during a pause is fine.',
    },
    'little-coming': {
      glance: 'Check the nipple',
      say: 'Baby works hard and little comes: check the nipple and the vent.',
      more: 'Take a break first. Folded nipple, blocked hole, lid too tight?',
    },
    'fast-nipple': {
      glance: 'A slower nipple?',
      say: 'Milk pours with the bottle level: check the nipple, or take a slow-flow one.',
      more: 'Names on packages do not tell how fast milk comes.',
    },
    'long-feed': {
      glance: 'A long feed',
      say: 'Baby may be tired. Stopping here is fine.',
      more: 'If most feeds go this way, ask your clinician.',
    },
    'asleep-early': {
      glance: 'Asleep early',
      say: 'Let baby rest. How often to wake a newborn: your clinician says.',
      more: 'Sleepy is not the same as full. Hard to wake, or fewer wet diapers than usual: call your clinician.',
    },
    'hold-upright': {
      glance: 'Hold upright',
      say: 'Hold baby upright for a while.',
      more: 'Ten minutes or a little longer is usual.',
    },
    'hunger-again': {
      glance: 'Look again',
      say: 'Awake and hungry again? Hands to mouth, smacking, turning to you?',
      more: 'Not sure? Then there is no hurry. Asleep: let baby sleep.',
    },
    gentle: { glance: 'No cue now', say: 'Watch baby, not the sleeve.', more: 'Pause when baby pauses.' },
    'held-steeply': {
      glance: 'Held steeply',
      say: 'Milk runs faster from a steep bottle. Nearly level is enough.',
      more: 'If you were shown another hold, that goes first.',
    },
    'cannot-tell': {
      glance: "Can't tell",
      say: 'The sleeve cannot tell how fast milk is coming. Go by baby.',
      more: 'Hold the bottle by the sleeve, grip underneath.',
    },
    'no-guidance': {
      glance: 'No guidance',
      say: 'Nothing is heard from the sleeve. Go by baby.',
      more: 'Pause when baby pauses.',
    },
    'guidance-off': {
      glance: 'Cues off',
      say: 'You turned the cues off. Go by baby.',
      more: 'They come back after ten minutes, or with the next feed. Milk is still measured.',
    },
    'cues-withheld': {
      glance: 'Study feed',
      say: 'Cues are kept, not shown.',
      more: 'Go by baby and signs of stress, as always.',
    },
    waiting: {
      glance: 'Ready',
      say: 'Waiting for the first suck.',
      more: 'Baby upright, bottle nearly level, just enough milk to cover the hole.',
    },
  },
  /**
   * The reason of a cue, by rule. A slot has the name of its number: `…Ml` and `…Sec` become a volume and a time, `pauseSec` one of the lines of
   * `pause`, `:1` asks for one decimal. The reason of "enough?" gives no amount.
   */
  because: {
    'tilt-down':
      '{sinceMl} in {overSec}, about {flowMlPerMin} mL/min: {aheadMl} ahead of {rateMlPerMin} mL/min.',
    'tilt-down-in-doubt':
      '{sinceMl} in {overSec}, about {flowMlPerMin} mL/min: {aheadMl} ahead of {rateMlPerMin} mL/min, though the estimate was poor.',
    burp: '{sinceMl} since the last burp or burp cue; {pauseSec}.',
    'burp-without-pause': '{sinceMl} since the last burp or burp cue; no pause came.',
    'burp-half-way': 'First pause past half-way, {pauseSec}.',
    'burp-at-the-end': 'The end of the feed: The nipple was offered {refusals} times in a row and not taken.',
    'switch-side': 'First pause past the change-over: {takenMl} taken, {pauseSec}.',
    'switch-side-by-time': 'First pause after {feedSec} on one side, {pauseSec}.',
    refused: 'The nipple was offered {refusals} times in a row and not taken.',
    faded: '{sucks} sucks in the last {windowSec} of nipple offered; before, about {sucksPerMin} a minute.',
    'asleep-early':
      '{sucks} sucks in the last {windowSec} of nipple offered; before, about {sucksPerMin} a minute, {feedSec} into the feed.',
    'breath-pause': '{sucks} sucks without a pause.',
    'lower-is-fine': 'Held at {tiltDeg}°; milk covers the hole from {coverTiltDeg}° on.',
    'hole-dry': 'The milk lies {depthMm} mm under the hole while baby sucks.',
    'little-coming': '{sucks} sucks in {activeSec} of active sucking brought {takenMl:1} mL.',
    'fast-nipple': '{pours} times milk came too fast with the bottle nearly level, at {tiltDeg}° just now.',
    'long-feed': '{feedSec} since the first suck.',
    after: 'Nipple out for {outSec} after "look at baby".',
  } as const,
  pause: { without: '{seconds} s without a suck', noSuck: 'no suck seen' },
  /** Names of the switches of a family. */
  switches: {
    suckRhythm: 'A short rest after many sucks in a row',
    otherSideByWeight: 'Change arms half-way by the weight of the milk, when no amount was entered',
    otherSideByTime: 'Change arms after some minutes',
    cover: 'Whether milk covers the nipple’s hole',
    littleComing: 'When baby works hard and little comes',
    fastNipple: 'When milk pours though the bottle is level',
    longFeed: 'When a feed takes long',
    after: 'After a feed: hold upright, look for hunger again (silent)',
  },
  /** A card that is always one touch away. The caregiver must look for these signs; the sleeve cannot measure them. */
  stressCard: {
    title: 'Stop and sit baby up if you see:',
    signs: [
      'milk spilling from the mouth',
      'wide eyes',
      'splayed fingers',
      'stiff arms or legs',
      'flared nostrils',
      'a grimace',
      'gulping',
      'choking',
    ],
    act: ['Nipple out.', 'Sit baby up.', 'Wait until baby is calm and breathing easily.'],
    emergency: 'Blue lips or not breathing: call emergency services now (911 in the US).',
    notWatched: 'The sleeve does not watch for these signs. Your eyes do.',
  },
  /** Shown beside the setting: the sleeve has become quieter by itself, and why. */
  quiet: {
    quieter: 'Fewer cues now: the last feeds needed few. It goes back by itself when a feed needs more.',
    quietest:
      'Hardly any cues now: the last feeds needed almost none. It goes back by itself when a feed needs more.',
  },
  /** Shown while screening has turned cues off (screening.ts). */
  screening: {
    intro: 'Asked once for each baby. Some babies need a pace that only a clinician can set.',
    cuesOff:
      '“Slower” and “enough” cues are off for this baby until your clinician’s plan is entered. The sleeve still measures. Feed as you were shown.',
    notScreened:
      '“Slower” and “enough” cues are off: the seven questions about this baby are not answered yet. Under “Before a feed”, choose or add the baby and answer them once. The sleeve still measures. Feed as you were shown.',
    withPlan: 'Cues follow the plan that your clinician gave you.',
  },
  caution:
    'Ebbline is a prototype: not a medical device, not an alarm. Watch baby, not the sleeve. What your clinician says, and the rules where you feed, come first.',
} satisfies { shown: Record<WordKey, ShownWords>; switches: Record<Switch, string> } & Record<
  string,
  unknown
>;

/** Names of the rules that give a reason. */
export type RuleName = keyof typeof WORDS_EN.because;

/** The texts of every language: a text missing in one of them does not compile. */
export type Words = Omit<typeof WORDS_EN, keyof Keyed> & Keyed;

/** Texts that are looked up by a key, so that every key needs one. */
interface Keyed {
  shown: Record<WordKey, ShownWords>;
  because: Record<RuleName, string>;
  switches: Record<Switch, string>;
}
