import type { DefectRow } from '../../services/shop';

/** What a move asks of the person who makes it, as fields of a small form. */

export type FormField =
  | { name: string; label: string; type: 'text' | 'date' }
  | { name: string; label: string; type: 'choice'; choices: 'dispositions' | 'states' }
  | { name: string; label: string; type: 'number of a record' }
  | { name: string; label: string; type: 'photograph' }
  | { name: string; label: string; type: 'passcode' };

const DEPTH_LEFT: FormField = {
  name: 'depth_left',
  label: 'Thickness left after the blend, in',
  type: 'text',
};
const WHY: FormField = { name: 'why', label: 'Reason', type: 'text' };
const STAMP: FormField = {
  name: 'passcode',
  label: 'Your passcode, for the stamp',
  type: 'passcode',
};

export const MOVE_WORDS: Record<string, string> = {
  raise: 'Raise',
  assess: 'Assess',
  start: 'Start work',
  offer: 'Offer for inspection',
  clear: 'Clear',
  accept: 'Accept as is',
  nil: 'Looked at – nothing found',
  reject: 'Reject',
  're-assess': 'Re-assess',
  defer: 'Defer',
  'found again': 'Found again',
  'same as': 'Same as …',
  back: 'Back',
  'raised in error': 'Raised in error',
  choose: 'Choose',
  undo: 'Undo',
};

/** Fields that belong in `set`; the others go beside it. */
export const SET_FIELDS = new Set(['disposition', 'reason', 'stage', 'authority', 'same_as']);

/** Fields asked for a move on this record; a depth left is asked only after a blend. */
export function formOf(move: string, row: Pick<DefectRow, 'disposition'>): FormField[] {
  switch (move) {
    case 'assess':
      return [
        { name: 'disposition', label: 'Disposition', type: 'choice', choices: 'dispositions' },
        { name: 'reason', label: 'Reason', type: 'text' },
        { name: 'stage', label: 'Stage (may be left out)', type: 'text' },
      ];
    case 'offer':
      return [
        { name: 'evidence_photograph', label: 'Photograph after work', type: 'photograph' },
        ...(row.disposition?.startsWith('Blend') ? [DEPTH_LEFT] : []),
      ];
    case 'clear':
      return [STAMP];
    case 'accept':
      return [
        {
          name: 'authority',
          label: 'Design authority reference (asked for grade 4)',
          type: 'text',
        },
        STAMP,
      ];
    case 'defer':
      return [
        { name: 'to_stage', label: 'To stage', type: 'text' },
        { name: 'look_again_by', label: 'Look again by', type: 'date' },
        { name: 'limit', label: 'Limit, or "no limit"', type: 'text' },
        { name: 'deferral_authority', label: 'Authority', type: 'text' },
      ];
    case 'same as':
      return [{ name: 'same_as', label: 'Number of the other record', type: 'number of a record' }];
    case 'choose':
      return [{ name: 'to', label: 'State', type: 'choice', choices: 'states' }, WHY];
    case 'found again':
      return [WHY, { name: 'evidence_photograph', label: 'New photograph', type: 'photograph' }];
    case 'reject':
    case 're-assess':
    case 'back':
    case 'raised in error':
      return [WHY];
    default:
      return [];
  }
}
