/**
 * English. Signs of fullness: CDC, infant feeding (closes mouth, turns away, relaxes hands; does not need to finish a
 * bottle). Signs of stress: a hospital's and a US public programme's leaflets on bottle feeding. Hard to wake, fewer
 * wet diapers: common practice, no source.
 */
import type { Words } from './words.ts';

export const WORDS_EN: Words = {
  shown: {
    'tilt-down': {
      glance: 'Lower your hand',
      say: 'Lower your hand: bottom of the bottle down, nipple stays in.',
      more: 'Milk is coming fast. Keep the bottle low until baby sucks again.',
    },
    burp: {
      glance: 'Burp',
      say: 'A good moment to burp: nipple out, bottle up, baby upright.',
      more: 'If no burp comes after a few minutes, carry on.',
    },
    'switch-side': {
      glance: 'Change arms',
      say: 'In this pause, move baby to your other arm.',
      more: 'Then offer again. Go on only if baby wants to.',
    },
    'offer-stop': {
      glance: 'Look at baby',
      say: 'Mouth closed? Turned away? Hands open? Then it is time to stop.',
      more: 'Baby does not need to finish. Hard to wake, or fewer wet diapers than usual: call your clinician.',
    },
    gentle: { glance: 'Gentle pace', say: 'Nothing to do.', more: 'Watch baby, not the sleeve.' },
    'cannot-tell': {
      glance: "Can't tell",
      say: 'The sleeve cannot tell how fast milk is coming. Go by baby.',
      more: 'Hold the bottle by the sleeve, grip underneath.',
    },
    'no-guidance': {
      glance: 'No guidance',
      say: 'Nothing is heard from the sleeve. Go by baby.',
      more: 'You can go on feeding. Pause when baby pauses.',
    },
    'guidance-off': {
      glance: 'Guidance paused',
      say: 'You paused the cues. Go by baby.',
      more: 'Milk is still measured.',
    },
    waiting: {
      glance: 'Ready',
      say: 'Waiting for the first suck.',
      more: 'Baby upright, bottle nearly level, just enough milk to cover the hole.',
    },
  },
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
  caution:
    'Ebbline is a prototype: not a medical device, not an alarm. Watch baby, not the sleeve. What your clinician says, and the rules where you feed, come first.',
};
