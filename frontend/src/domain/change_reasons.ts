/** Reasons for a change of what was captured, apart from what a history makes of them: whoever
writes needs these alone. */

import CORRECTIONS from '@tables/corrections.json';

/** Why of an act that takes a capture back; a move is taken back by a move of its own. */
export const TAKEN_BACK = 'taken back';

/** In the order of their keys on the screen. */
export const CHANGE_REASONS: readonly string[] = CORRECTIONS.reasons.map(({ why }) => why);
