/**
 * English. Sources of what is said: hunger and fullness signs, "does not need to finish": CDC. Hold, pauses: leaflets on paced
 * bottle feeding (Indiana WIC; Women & Infants Hospital; NHS trust pages after UNICEF UK Baby Friendly). Burps every 2 to 3 fl oz,
 * upright 10 to 15 min: AAP. Leftovers: CDC, NHS. Stress signs: the same leaflets. The rest: common practice, no source.
 */
import type { PrintedWords } from './words.ts';

export const PRINTED_WORDS_EN: PrintedWords = {
  title: 'How to feed me',
  lead: 'Baby leads. You hold, watch and wait. Baby does not need to finish a bottle.',
  flOz: 'fl oz',
  hold: {
    heading: 'Hold',
    lines: [
      'Baby sits up, head and neck held.',
      'Bottle nearly level: just enough milk to cover the hole.',
      'Touch the lips with the nipple. Wait for an open mouth.',
    ],
  },
  pace: {
    heading: 'Pace',
    lines: [
      'Baby stops sucking? Lower the bottom of the bottle; the nipple stays in. Wait.',
      'Baby sucks again? Back to level.',
    ],
    ownMinutes: (low, high) =>
      `My feeds usually last ${low === high ? `about ${low}` : `${low} to ${high}`} minutes. Shorter or longer is fine.`,
    leafletMinutes: 'Leaflets say 10 to 30 minutes. Shorter or longer is fine.',
  },
  burp: {
    heading: 'Burp',
    every: (amount) => `A pause to burp about every ${amount}, or when baby fusses. Sooner is fine.`,
    halfWay: 'A pause to burp half-way and at the end, or when baby fusses. Sooner is fine.',
    lines: ['None after a few minutes? Carry on. Afterward, upright for 10 to 15 minutes.'],
  },
  bottles: {
    heading: 'Portion',
    usual: (range) => `I usually take ${range} at a feed. Less is fine. More is fine.`,
    feeds: (sizes) => `One for each feed: ${sizes}.`,
    topUps: (sizes) => `Small ones, only if I still ask: ${sizes}.`,
    spare: {
      last: (size) => `Spare, ${size}: open it last, if I still ask.`,
      'kept-apart': (size) => `Spare, ${size}: call before you open it.`,
    },
    unknown: 'Start small, 2 fl oz (60 mL). Add a little if I still ask.',
  },
  hungry: {
    heading: 'Hungry',
    lines: ['Hands to mouth. Turns to the bottle. Smacks or licks lips. Crying comes late: offer before.'],
  },
  full: {
    heading: 'Full',
    lines: ['Mouth closes. Turns away. Hands open and relax. Then stop, however much is left.'],
  },
  leftovers: {
    heading: 'What is left over',
    rules: {
      expressed:
        'Breast milk: throw away 1 hour after baby first drank from it (NHS); 2 hours after the feed ends is CDC’s time.',
      formula: 'Formula: throw away after the feed; at most 1 hour from its start (CDC).',
      mixed: 'Mixed milk, as formula: throw away after the feed; at most 1 hour from its start (CDC).',
    },
  },
  notesHeading: 'Also',
  light: {
    heading: 'What the light on the sleeve means',
    signs: {
      'tilt-down': { looks: 'Orange, long glows', means: 'Lower your hand: bottom of the bottle down.' },
      burp: { looks: 'Pale, two short glows', means: 'A good moment to burp.' },
      'switch-side': { looks: 'Blue, one long, one short', means: 'Change arms in this pause.' },
      'offer-stop': { looks: 'Violet, steady', means: 'Look at baby: full?' },
      'cannot-tell': { looks: 'Faint, a blink now and then', means: 'The sleeve can’t tell. Go by baby.' },
    },
    note: 'No light, or no sleeve? Nothing is lost: go by baby.',
  },
  stop: {
    heading: 'Stop and sit baby up if you see',
    signs:
      'milk spilling from the mouth, wide eyes, splayed fingers, stiff arms or legs, flared nostrils, gulping, choking.',
    act: 'Nipple out. Wait until baby is calm and breathing easily.',
    emergency: 'Blue lips or not breathing: call 911 now.',
  },
  reachHeading: 'Questions? Call',
  caution:
    'Your center’s rules and the baby’s clinician come first. Ebbline is a prototype: not a medical device, not an alarm. Watch baby, not the sleeve.',
  sources:
    'Sources: hunger, fullness, milk times: CDC, NHS (quoted by others). Burps: the AAP says every 2 to 3 fl oz (60 to 90 mL); oftener, common practice, no source. Hold, pauses, minutes: leaflets on paced bottle feeding (Indiana WIC; Women & Infants Hospital; NHS pages after UNICEF UK); they disagree on minutes, and the range covers both. Bottle sizes: common practice, no source.',
  sheet: {
    title: 'Today’s feeds',
    baby: 'Baby',
    day: 'Date',
    columns: [
      'Time',
      'Milk',
      'Offered (fl oz or mL)',
      'Left over',
      'Taken',
      'Minutes',
      'Spit-up, mood, remarks',
      'Initials',
    ],
    milk: { expressed: 'B', formula: 'F', mixed: 'M' },
    withSleeve: 'sleeve',
    kinds: { breast: 'at the breast', refused: 'hardly taken' },
    earlier: (count) => `${count} earlier ${count === 1 ? 'feed' : 'feeds'} of this day did not fit here.`,
    notes: [
      'Write every offer, with or without the sleeve. A refused bottle counts too: 5 mL is a good try.',
      'B breast milk, F formula, M mixed. “Taken” is what was offered minus what is left over.',
      'Refused three times, or for ten minutes? Rest, and try later (common practice, no source).',
    ],
    remarks: 'For the parent',
    signature: 'Name and signature',
  },
};
