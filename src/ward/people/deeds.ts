/** What stands in the trail of a house: every look at and change of a child's data. */
const DEEDS = [
  'opened-board',
  'looked-at-children',
  'looked-at-feeds',
  'looked-at-trail',
  'compared-trail',
  'looked-at-study',
  'filled',
  'bound',
  'stopped',
  'released',
  'arrived',
  'left',
  'labelled',
  'entered-milk',
  'said-next-feeds',
  'consent-given',
  'consent-ended',
] as const;
export type Deed = (typeof DEEDS)[number];
