import type { SetAside } from '../../../research/study/eligible.ts';

/** Why a session is set aside, as the end of a sentence. */
export const SET_ASIDE: Record<SetAside, string> = {
  'feed-missing': 'its feed is not kept any more',
  'not-ended': 'its feed has not ended, or was discarded',
  'no-capture': 'its raw counts are not here',
  'no-calibration': 'it has no calibration',
  'calibration-undated': 'its calibration does not say when it was made',
  'calibration-too-old': 'its calibration was older than the protocol allows',
  'calibration-of-another-sleeve': 'its calibration is of another sleeve',
  unreadable: 'its calibration or its raw counts cannot be read',
  gaps: 'more of its samples were lost than the protocol allows',
  'too-few-good-rows': 'too few of its rows are good',
  'other-milk': 'it was another kind of milk',
  duplicate: 'its raw counts are those of a session before',
};
